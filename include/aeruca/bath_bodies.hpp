#pragma once

/// \file
/// Bodies that are more than one even layer: several stores side by side, and a solid reserve.
///
/// Question answered: as that of `bath.hpp`, for an object whose chloride sits in more than one
/// place, or as a solid that holds the pore water at its solubility.
///
/// *Stores.* Each store is a slab, cylinder or sphere with its share of the load, its share of the
/// capacity for chloride, its own rate D/L^2 and its own film of still water (Biot number). All
/// give to, and take from, the same bath. With one store this is `bath_series`; with several whose
/// rates follow a distribution it is an object with a spread of rates; with a quick and a slow one
/// it is an object with chloride in the outer crust and in deep pits. `alpha` of a bath is its
/// volume over K times the volume of all stores together.
///   dv/dtau = -lambda r (v - s),  s the concentration at the store's surface,
///   alpha dc/dtau = sum over stores of capacity share x release
/// solved for every bath at once by a contour of simple fractions (numerics/contour.hpp), no time
/// steps. Accuracy: 1e-6 of the load (a test against SciPy's method of lines, and against
/// `bath_series`).
///
/// *Reserve.* A slab holds, besides chloride that is mobile, a solid (nantokite) that keeps the
/// pore water at its solubility. Solid is left behind a front that moves from the surface to the
/// metal; when it gets there the rest leaves by diffusion.
///   behind the front u = 1;  before it du/dtau = d2u/dx2;  at it (solid/dissolved) dl/dtau = du/dx
/// u counts in the solubility; l is the depth of the front. Front-fixed finite volumes and an
/// L-stable Rosenbrock method. Accuracy: 1e-4 of the load. For an endless bath the front is
/// l = 2 k sqrt(tau) with sqrt(pi) k exp(k^2) erf(k) = dissolved/solid (J. Stefan's problem, as in
/// Crank, chapter 13, recalled), which is also how each treatment begins. The square-root law that
/// takes the profile for straight (T. Higuchi, J. Pharm. Sci. 50 (1961) 874, recalled) releases 4.9
/// % less than that at solid + dissolved = 2 x dissolved, 0.9 % less at 10.
///
/// Out of both: reactions in the bath, layers lost, more than one solid.

#include <span>
#include <vector>

#include "aeruca/bath.hpp"

namespace aeruca {

/// One place that holds chloride.
struct ChlorideStore {
  BodyShape shape = BodyShape::slab;
  InitialLoad load = InitialLoad::uniform;  ///< at the metal: slab only
  double load_share = 1;                    ///< of all chloride, 0 to 1; shares add up to 1
  double capacity_share = 1;                ///< of the capacity, above 0; shares add up to 1
  double rate = 1;                          ///< D/L^2 over that by which tau is counted, above 0
  double biot = std::numeric_limits<double>::infinity();  ///< above 0; infinity: no film
};

/// The state at the beginning and end of every bath, as fractions of the load. Throws InputError
/// for shares that do not add up to 1 within 1e-9 and numbers outside their ranges.
[[nodiscard]] BathSeries stores_series(std::span<const ChlorideStore> stores,
                                       std::span<const BathStep> baths);

/// The stores of an object whose rates are spread log-normally about 1 with standard deviation
/// `spread` of ln rate (above 0, at most 3): `count` stores (2 to 16) at the nodes of the
/// Gauss-Hermite rule, with its weights as shares of load and capacity. Throws InputError.
[[nodiscard]] std::vector<ChlorideStore> spread_stores(double spread, std::size_t count = 7);

/// Chloride as a solid and dissolved, in a slab.
struct ReserveBody {
  /// Chloride in the solid over chloride that is mobile at its solubility, 0.3 to 1000
  double solid_over_dissolved = 10;
};

/// One moment of a body with a reserve.
struct ReservePoint {
  double in_bath = 0;  ///< fraction of the load (solid and dissolved together)
  double left = 1;     ///< fraction of the load
  double front = 0;    ///< depth to which the solid is gone, 0 surface to 1 metal
};

/// The state at the end of every bath; `alpha` and `fill` as in `bath.hpp` (the capacity is that of
/// the mobile chloride). NaN from where the solver gave up. Throws InputError as `bath_series`, and
/// for a fill that is not below the solubility.
[[nodiscard]] std::vector<ReservePoint> reserve_series(const ReserveBody& body,
                                                       std::span<const BathStep> baths);

}  // namespace aeruca
