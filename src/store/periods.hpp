#pragma once

// A record by months, seasons and weeks.

#include <vector>

#include "store/known_time.hpp"

namespace aeruca::detail {

struct Periods {
  std::vector<MonthSummary> months;  ///< those with known time, in order
  int worst_month = -1;              ///< -1: none
  std::vector<SeasonSummary> seasons;
  WeekSummary worst_week;
};
[[nodiscard]] Periods periods_of(const KnownTime& known);

}  // namespace aeruca::detail
