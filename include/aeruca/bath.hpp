#pragma once

/// \file
/// How chloride leaves a porous corrosion layer in a sequence of baths.
///
/// Question answered: of the chloride that a layer held at the start, how much is in the bath, and
/// how much is still inside, at any moment of any sequence of baths?
///
/// Words. *Body*: the layer that holds the chloride: a slab (one-sided layer of thickness L on
/// metal, or a sheet of half-thickness L), a cylinder or a sphere (radius L). *Bath*: well-stirred
/// liquid. *tau*: reduced time D t / L^2 with the apparent diffusion coefficient D. *alpha*: bath
/// volume divided by K times the volume of the body, K being chloride per volume of body over
/// chloride per volume of bath at equilibrium; infinity is a perfect sink. *Biot number*: film
/// conductance times L over D; infinity is perfect stirring. Amounts are fractions of the chloride
/// in the body at the start ("the load").
///
/// Equation. With x = r/L, dv = d x^(d-1) dx (d = 1, 2, 3) and u the concentration in the body:
///   du/dtau = x^(1-d) d/dx (x^(d-1) du/dx),   du/dx = 0 at 0,
///   -du/dx = Bi (u - c) at 1,   alpha dc/dtau = -d du/dx at 1.
/// Body and bath together are self-adjoint under <(f,b),(g,e)> = int f g dv + alpha b e, so the
/// solution is a sum of modes phi(q x) exp(-q^2 tau), phi = cos, J0, sin(z)/z, with q from
///   phi(q) + phi'(q) (q/Bi - d/(alpha q)) = 0.
/// A change of bath alters only the bath's component: with the same alpha each amplitude changes in
/// closed form, with another alpha through the closed-form overlaps of the two sets of modes.
/// For one clean bath and Bi = infinity these are the series of Crank, The Mathematics of
/// Diffusion, 2nd ed. (1975), sections 4.3.5, 5.3.3 and 6.3.5 (recalled, not seen).
///
/// Accuracy: amounts are right to `ModeOptions::accuracy` (1e-10 of the load) whatever the time, as
/// long as the modes needed stay below `modes_max`; that is every bath longer than about 1e-7 in
/// tau. A uniformly loaded slab has no such limit: early in a treatment it is replaced by a thinner
/// one with the same early release, which is exact to 1e-16 (the far side is not yet felt). Each
/// result carries its truncation bound.
///
/// Degenerate cases: alpha = infinity has no mode at q = 0; a bath of length 0 changes the bath
/// only. Limits of the model: one diffusion coefficient, linear partition, no solid reserve, no
/// layer lost.

#include <cstddef>
#include <limits>
#include <span>
#include <string_view>
#include <vector>

#include "aeruca/errors.hpp"

namespace aeruca {

enum class BodyShape { slab, cylinder, sphere };

/// Where the chloride sits at the start: evenly, or all of it at the metal (slab only).
enum class InitialLoad { uniform, at_metal };

/// "slab", "cylinder" or "sphere".
[[nodiscard]] std::string_view to_string(BodyShape shape);
/// "uniform" or "at-metal".
[[nodiscard]] std::string_view to_string(InitialLoad load);
/// The shape of that name. Throws UnknownName.
[[nodiscard]] BodyShape body_shape(std::string_view name);
/// The load of that name. Throws UnknownName.
[[nodiscard]] InitialLoad initial_load(std::string_view name);

struct PorousBody {
  BodyShape shape = BodyShape::slab;
  InitialLoad load = InitialLoad::uniform;
  double biot = std::numeric_limits<double>::infinity();  ///< above 0; infinity: perfect stirring
};

/// One bath.
struct BathStep {
  double alpha = std::numeric_limits<double>::infinity();  ///< above 0; infinity: perfect sink
  double tau = 0;  ///< length of the bath in reduced time, 0 or more
  /// Chloride this bath would hold if filled with fresh liquid only (fraction of load)
  double fill = 0;
  double carry_over = 0;  ///< fraction of the old bath's liquid that stays in the vessel, 0 to 1
};

/// One moment.
struct BathPoint {
  double tau = 0;        ///< since the first bath began
  std::size_t bath = 0;  ///< position in the sequence, from 0
  /// Chloride in the bath (fraction of load); for a perfect sink what this bath took up
  double in_bath = 0;
  double left = 1;       ///< chloride in the body (fraction of load)
  double extracted = 0;  ///< net release of the body, 1 - left
};

struct ModeOptions {
  double accuracy = 1e-10;  ///< truncation error of an amount <= accuracy (fraction of load)
  std::size_t modes_max = 6000;
  enum class Change { automatic, overlaps };
  /// `overlaps` takes the general way even between baths of equal alpha (for checking).
  Change change = Change::automatic;
};

struct BathSeries {
  std::vector<BathPoint> starts;  ///< just after each bath was filled
  std::vector<BathPoint> ends;    ///< just before each bath was emptied
  std::size_t modes = 0;          ///< most modes used in any bath
  double truncation_error = 0;    ///< bound, fraction of load
};

/// The state at the beginning and end of every bath. Throws InputError for a parameter outside its
/// range, a load at the metal of anything but a slab, or chloride in the fill of a perfect sink.
[[nodiscard]] BathSeries bath_series(const PorousBody& body, std::span<const BathStep> baths,
                                     const ModeOptions& options = {});

/// The ends of all baths for many rates at once.
struct BathTable {
  std::vector<double> in_bath;  ///< rate after rate, each with one figure a bath (fraction of load)
  std::vector<double> left;     ///< likewise
  double truncation_error = 0;  ///< largest bound
};

/// `bath_series` for each rate, with `tau` of each bath read as its length in any unit of time and
/// the rates (D/L^2) in one over that unit. Several times faster than one call a rate. A NaN rate
/// gives NaN. Throws InputError as bath_series, and for a rate below 0.
[[nodiscard]] BathTable bath_table(const PorousBody& body, std::span<const BathStep> baths,
                                   std::span<const double> rates, const ModeOptions& options = {});

/// The state at each time in `tau` (since the first bath began, ascending, not past the last bath;
/// a moment of change belongs to the old bath). Throws InputError as above.
[[nodiscard]] std::vector<BathPoint> bath_curve(const PorousBody& body,
                                                std::span<const BathStep> baths,
                                                std::span<const double> tau,
                                                const ModeOptions& options = {});

/// The first `count` positive roots q of the equation above, ascending, relative error below 1e-14.
/// Throws InputError for alpha or biot not above 0, and a count outside 1 to 100 000.
[[nodiscard]] std::vector<double> mode_roots(BodyShape shape, double alpha, std::size_t count,
                                             double biot = std::numeric_limits<double>::infinity());

/// M(tau)/M(infinity) of one bath without chloride in its fill, uniform load; NaN in, NaN out.
[[nodiscard]] double fraction_of_final_release(BodyShape shape, double alpha, double tau);

}  // namespace aeruca
