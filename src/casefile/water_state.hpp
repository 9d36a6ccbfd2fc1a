#pragma once

// One water of a case at equilibrium: what its analysis says, at the place in the file where it
// says it.

#include <string>

#include "aeruca/analysis.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {

/// The potential on the hydrogen scale, measured or that of the air.
struct Potential {
  bool known = false;
  double eh_v = kNotGiven;
  double uncertainty_v = 0;
  std::string said;
};

/// A water of the case, solved.
struct SolvedCaseWater : SolvedWater {
  Potential potential;
  bool has_copper = false;       ///< copper was given, so saturation can be told
  bool copper_is_limit = false;  ///< ... as a detection limit: saturation is at most this
};

/// Solves the water, `key` of the file. Its pH must be given. Throws FileError for an ion
/// or electrode that the data set does not know and for readings that contradict each other.
SolvedCaseWater solve_water(const CaseFile& file, const WaterAnalysis& analysis,
                            const std::string& key, const DatasetPointer& dataset);

/// Throws FileError for an ion or electrode that the data set does not know.
void check_names(const CaseFile& file, const WaterAnalysis& analysis, const std::string& key,
                 const Dataset& dataset);

}  // namespace aeruca::detail
