#pragma once

#include "aeruca/climate.hpp"

namespace aeruca::detail {

/// Fills verdict, reason and warnings from the figures already in the assessment.
void judge(const LoggerRecord& record, StoreAssessment& assessment);

}  // namespace aeruca::detail
