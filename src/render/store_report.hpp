#pragma once

// A store assessment, and the comparison with a second logger if there is one, as text and as JSON.

#include <optional>
#include <string>

#include "aeruca/store.hpp"
#include "aeruca/two_loggers.hpp"

namespace aeruca::detail {

std::string store_text(const LoggerRecord& record, const StoreAssessment& assessment,
                       const std::optional<TwoLoggers>& two, const Dataset& dataset);
std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const std::optional<TwoLoggers>& two, const Dataset& dataset);

}  // namespace aeruca::detail
