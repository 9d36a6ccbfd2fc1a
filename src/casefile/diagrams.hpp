#pragma once

// The stability fields that a case asks for: at the activities of a water, and in a pit.

#include <string>

#include "aeruca/stability.hpp"
#include "casefile/water_state.hpp"

namespace aeruca::detail {

/// Of a dissolved species; NaN where it is not in the water.
double log10_activity(const EquilibriumResult& result, const std::string& species);
/// Of whichever form of dissolved carbonate predominates; NaN without any.
double log10_carbonate(const EquilibriumResult& result);

/// The plane of pH and Eh at the activities of this water.
FieldOptions fields_of(const SolvedCaseWater& state, double temperature_c);
/// The water as a point of that plane.
CaseWaterPoint point_of(const CaseWater& water, const SolvedCaseWater& state,
                        const std::string& name);

CaseDiagram diagram_of(const CaseWaterPoint& point, FieldOptions options,
                       const DatasetPointer& dataset);
CaseDiagram pit_diagram(const CasePit& pit, const DatasetPointer& dataset);

}  // namespace aeruca::detail
