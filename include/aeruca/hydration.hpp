#pragma once

/// \file
/// At which humidity does a hydrate give up its water?
///
/// *Hydration change*: the humidity at which two hydrates of one salt stand side by side, such as
/// mirabilite and thenardite; in drier air the lower one is stable. It follows from the constants of
/// the two solids alone, a(w)^n = K(upper) / K(lower) for n waters, and needs no activity model; but
/// both constants must be of one scale, which those of the data set are meant to be. Above the
/// humidity at which the lower one takes up water and dissolves there is no change in air.
/// Thermodynamics: a change may wait for months (kieserite, anhydrite).

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "aeruca/brine.hpp"
#include "aeruca/dataset.hpp"

namespace aeruca {

/// The change between two hydrates at one temperature, beside what was measured.
struct HydrationChange {
  std::string upper, lower;  ///< `mirabilite`, `thenardite`
  double temperature_c = 25;
  double waters = 0;      ///< that a formula gives up
  double rh_percent = 0;  ///< NaN: not known, see `not_known_because`
  double rh_uncertainty_percent =
      0;                          ///< one standard uncertainty (% RH), of the constants and heats
  std::string not_known_because;  ///< empty when known
  /// Of the same change within 5.5 degrees C, nearest first; computed ones of the literature last
  std::vector<HumidityComparison> measured;
};

/// `upper` and `lower`: solids of the data set, of the same ions, the upper with more water. Throws
/// UnknownName; InputError for solids that are no such pair and for a temperature outside 0 to 50
/// degrees C; NaN temperature: NaN.
[[nodiscard]] HydrationChange hydration_change(const Dataset& dataset, std::string_view upper,
                                               std::string_view lower, double temperature_c = 25.0);

/// The changes of one solid with its neighbours, and those the literature has beside: of a partner
/// that is no salt of the data set, not known here, with what was published. `name` as for
/// `Dataset::salt`, but a solid's own name first. Throws likewise.
[[nodiscard]] std::vector<HydrationChange> hydration_changes(const Dataset& dataset,
                                                             std::string_view name,
                                                             double temperature_c = 25.0);

/// Neighbours among the hydrates of each salt of the data set, the one with more water first.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> hydration_pairs(
    const Dataset& dataset);

}  // namespace aeruca
