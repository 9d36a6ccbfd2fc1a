#pragma once

// Rows brought into order of time, and what a clock that was changed did to them.

#include <algorithm>
#include <cstdint>
#include <vector>

#include "store/blocks.hpp"
#include "store/logger_series.hpp"

namespace aeruca::detail {

/// Turns round, sorts, drops what is repeated and notes all of it; the median interval (s), 0 for
/// fewer than two times.
double put_in_order(RawSeries& series, bool utc, const FieldNames& names, FaultLog& log);

/// Median of the steps that are not 0 (s); 0 for fewer than two times.
double usual_interval(const std::vector<std::int64_t>& times_s);

/// visit(i) for every step from i - 1 to i of more than `limit_s`, in order. Such steps are rare:
/// blocks without one are passed in one look at their longest.
template <class Visit>
void each_step_above(const std::vector<std::int64_t>& times_s, double limit_s, Visit&& visit) {
  for (std::size_t first = 1; first < times_s.size(); first += kBlock) {
    const std::size_t end = std::min(times_s.size(), first + kBlock);
    std::int64_t longest = 0;
    for (std::size_t i = first; i < end; ++i)
      longest = std::max(longest, times_s[i] - times_s[i - 1]);
    if (static_cast<double>(longest) <= limit_s) continue;
    for (std::size_t i = first; i < end; ++i) {
      if (static_cast<double>(times_s[i] - times_s[i - 1]) > limit_s) visit(i);
    }
  }
}

}  // namespace aeruca::detail
