#pragma once

/// \file
/// Nantokite (CuCl) in air: why no humidity makes it stable, and what published limits are then.
///
/// In dry air          2 nantokite + 1/2 O2(g) = tenorite + tolbachite                       (eq 1)
/// in moist air        3 nantokite + 3/4 O2(g) + 3/2 H2O(g) = clinoatacamite + tolbachite    (eq 2)
/// (tolbachite: dry CuCl2, which takes up water and dissolves from about 68 % RH on). Both run to
/// the right as long as log10 K + n log10 f(O2) (+ 3/2 log10 a(H2O)) is above 0; eq 1 needs no
/// water at all. So a dry store does not make nantokite stable: it makes it slow, for the reactions
/// run in films of water. The published limits are of that: below them no change was seen. Rates
/// against humidity were not found as numbers.
///
/// Uncertainty: that of the constants, 1 to 2 log units; the answer has ten to spare.

#include <string>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca {

/// Nantokite in air of 0.21 bar oxygen at 25 degrees C.
struct NantokiteInAir {
  double rh_percent = 0;
  double log10_affinity_dry = 0;    ///< of eq 1, per formula as written; above 0: it turns
  double log10_affinity_moist = 0;  ///< of eq 2
  double log10_oxygen_dry = 0;      ///< log10 bar of oxygen below which nantokite would stand, eq 1
  double uncertainty_log10 = 0;     ///< one standard uncertainty of log10_affinity_dry
  std::vector<OnsetBand> limits;    ///< published, with their evidence
  std::string said;
};

/// rh_percent above 0 to 100; throws InputError outside.
[[nodiscard]] NantokiteInAir nantokite_in_air(const Dataset& dataset, double rh_percent = 50);

}  // namespace aeruca
