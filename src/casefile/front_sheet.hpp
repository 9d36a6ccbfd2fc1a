#pragma once

// The front sheet of an assessment whose sections are worked out.

#include "aeruca/front_sheet.hpp"
#include "casefile/verdict.hpp"

namespace aeruca::detail {

FrontSheet front_sheet(const CaseEvidence& evidence, const CaseAssessment& assessment,
                       const Dataset& dataset);

}  // namespace aeruca::detail
