#pragma once

// Numbers in JSON, which has neither NaN nor infinity.

#include <cmath>
#include <nlohmann/json.hpp>

namespace aeruca::detail {

/// null for what is not known, not given or endless.
inline nlohmann::ordered_json number_or_null(double value) {
  if (!std::isfinite(value)) return nullptr;
  return value;
}

}  // namespace aeruca::detail
