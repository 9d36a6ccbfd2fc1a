#pragma once

namespace aeruca::detail {

/// Throws InputError unless low <= value <= high. NaN passes: the functions hand it through.
void require_range(const char* parameter, double value, double low, double high, const char* unit);

}  // namespace aeruca::detail
