#pragma once

// The box "washing" of the front sheet.

#include "aeruca/front_sheet.hpp"
#include "casefile/verdict.hpp"

namespace aeruca::detail {

/// Fills tone, verdict, figure and sentences from the bath log's sums and decision.
void fill_washing(const CaseEvidence& evidence, const Dataset& dataset, SheetBox& box);

}  // namespace aeruca::detail
