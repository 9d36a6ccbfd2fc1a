#pragma once

// A store assessment as text and as JSON.

#include <string>

#include "aeruca/store.hpp"

namespace aeruca::detail {

std::string store_text(const LoggerRecord& record, const StoreAssessment& assessment,
                       const Dataset& dataset);
std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const Dataset& dataset);

}  // namespace aeruca::detail
