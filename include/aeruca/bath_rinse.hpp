#pragma once

/// \file
/// What stays in the pores of an object when it is rinsed after its last bath.
///
/// Question answered: pores hold the liquid of the last bath, with its chloride, sodium or whatever
/// is counted. The object goes through n rinses of fresh water. How much of it is still in the pores?
///
/// Words. *Pore volume* Vp: liquid that the object holds, given, or porosity times the volume of the
/// layer. *Clinging* Vc: liquid on the surface and in the vessel that goes on from rinse to rinse.
/// *Rinse volume* Vr: fresh water of each, with f mg/L of its own. *Left*: what the pores hold over
/// what they held at first, in percent.
///
/// Two cases bound the truth.
///   mixed      pores, clinging liquid and rinse come to one concentration in every rinse:
///                c' = (c (Vp + Vc) + f Vr) / (Vp + Vc + Vr)                              eq 1
///              No still rinse of that volume leaves less, however long it lasts.
///   diffusing  it leaves by diffusion alone, into a stirred rinse of given length: the exact series
///              of `bath.hpp` with alpha = (Vr + Vc) / Vp, carry-over Vc / (Vr + Vc) and the rate
///              D/L^2. It comes to eq 1 when the rinses are long.
///
/// | figure    | uncertainty                                                                      |
/// |-----------|----------------------------------------------------------------------------------|
/// | mixed     | the range is that of a pore volume `pore_factor` times less and more             |
/// | diffusing | the same at the given rate; arithmetic right to 1e-10 of what the pores held     |
///
/// Not in it: what is bound to solids or sits in them (nantokite, basic chlorides) and comes out
/// later; a flow through the pores; pores without a way out. A rinse that reads nothing is no empty
/// pore.

#include <optional>
#include <string>
#include <vector>

#include "aeruca/bath.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

struct RinseRequest {
  double pore_ml = kNotGiven;   ///< above 0 to 1e6; or, in its place, the next two
  double porosity = kNotGiven;  ///< above 0 to 1
  double body_cm3 = kNotGiven;  ///< of the porous layer, above 0 to 1e6
  double pore_factor = 2;       ///< the pore volume may be so many times more or less, 1 to 10
  double start_mg_per_l = 1;    ///< in the pores at first, of what is counted; above 0 to 1e6
  double rinse_l = kNotGiven;   ///< of each rinse, above 0 to 1e6
  double clinging_ml = 0;       ///< 0 to 1e6
  double water_mg_per_l = 0;    ///< of the rinse water itself, 0 to 1e6
  /// How many, 1 to 100; none: as many as the target asks for
  std::optional<std::size_t> rinses;
  double target_percent = kNotGiven;  ///< left, above 0 and below 100; with or without `rinses`
  double minutes = kNotGiven;         ///< of each rinse, above 0 to 1e7; goes with the rate
  double rate_per_day = kNotGiven;    ///< D/L^2, above 0 to 1e9; see `diffusion_rate_per_day`
  PorousBody body;                    ///< for the rate
};

/// What is left in the pores (percent of what they held at first).
struct RinseLeft {
  double percent = kNotGiven;
  double low_percent = kNotGiven;   ///< pore volume `pore_factor` times less
  double high_percent = kNotGiven;  ///< and more
};

/// After one rinse.
struct RinseStep {
  std::size_t rinse = 0;
  RinseLeft mixed;
  RinseLeft diffusing;                ///< NaN without a rate
  double mixed_mg_per_l = kNotGiven;  ///< that pores and rinse have in common, mixed
  double rinse_mg_per_l = kNotGiven;  ///< that the rinse reads, diffusing; NaN without a rate
};

struct RinseResult {
  double pore_ml = 0;
  double held_mg = 0;        ///< in the pores at first
  double left_mg = 0;        ///< at the end, diffusing where a rate is given, else mixed
  double floor_percent = 0;  ///< that endless rinsing leaves: the rinse water's own
  std::vector<RinseStep> rinses;
  /// Rinses until the target is met; none: not asked for, or not within 100
  std::optional<std::size_t> needed_mixed, needed_mixed_high;
  std::optional<std::size_t> needed_diffusing, needed_diffusing_high;
  std::vector<std::string> read, left_out;  ///< sentences
};

/// Throws InputError for numbers outside their ranges, a pore volume given twice or not at all, a
/// rate without minutes or minutes without a rate, neither rinses nor a target, and as bath_series.
[[nodiscard]] RinseResult rinse_pores(const RinseRequest& request);

}  // namespace aeruca
