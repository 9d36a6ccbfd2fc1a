#pragma once

#include "aeruca/store.hpp"

namespace aeruca::detail {

/// Fills verdict, reason and warnings from the figures already in the assessment.
void judge(const LoggerRecord& record, StoreAssessment& assessment);

}  // namespace aeruca::detail
