#pragma once

// The copper solids of one water: how far each lies behind the most stable form, and its
// saturation.

#include "aeruca/stability.hpp"
#include "casefile/water_state.hpp"

namespace aeruca::detail {

bool holds_copper(const Dataset& dataset, const Species& species);

/// `options` are the fields at the activities of this water, `best` the most stable form there.
CaseTable copper_solids(const SolvedCaseWater& state, const std::string& name,
                        const DatasetPointer& dataset, const FieldOptions& options,
                        const PointAnswer& best);

}  // namespace aeruca::detail
