#pragma once

// The copper solids of one water as a table: how far each lies behind the most stable form, and its
// saturation, and how probable the constants make it that it may form.

#include <vector>

#include "aeruca/stability.hpp"
#include "casefile/water_state.hpp"

namespace aeruca::detail {

/// `standings` are those of all forms of copper at the pH and Eh of this water, the first first.
CaseTable copper_solids(const SolvedCaseWater& state, const std::string& name,
                        const DatasetPointer& dataset, const std::vector<Standing>& standings);

}  // namespace aeruca::detail
