#pragma once

#include "aeruca/store.hpp"

namespace aeruca::detail {

/// Fills verdict, reason, set-point in words and warnings from the figures already in the assessment.
void judge(const LoggerRecord& record, StoreAssessment& assessment);

}  // namespace aeruca::detail
