#include <algorithm>
#include <array>
#include <tuple>

#include "base/calendar.hpp"
#include "store/known_time.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;

std::int64_t day_of(std::int64_t time_s) {
  return (time_s >= 0 ? time_s : time_s - kDaySeconds + 1) / kDaySeconds;
}

std::int64_t next_month_s(const MonthSummary& month) {
  const bool december = month.month == 12;
  return kDaySeconds *
         days_from_civil(month.year + (december ? 1 : 0), december ? 1 : month.month + 1, 1);
}

// Readings from `first` to before `end` lie in the month.
void summarise(const KnownTime& known, std::size_t first, std::size_t end, MonthSummary& month) {
  // Four sums, so that none waits for the one before.
  std::array<double, 4> seconds_of{};
  std::array<double, 4> humid{};
  std::size_t i = first;
  for (; i + 4 <= end; i += 4) {
    for (std::size_t k = 0; k < 4; ++k) {
      seconds_of[k] += known.seconds[i + k];
      humid[k] += known.seconds[i + k] * known.surface_rh[i + k];
    }
  }
  for (; i < end; ++i) {
    seconds_of[0] += known.seconds[i];
    humid[0] += known.seconds[i] * known.surface_rh[i];
  }
  const auto whole = [](const std::array<double, 4>& sums) {
    return (sums[0] + sums[1]) + (sums[2] + sums[3]);
  };
  const double seconds = whole(seconds_of);
  month.known_hours = seconds / 3600;
  month.mean_rh_percent = whole(humid) / seconds;
  month.share_above_low = seconds_above(known, known.low, first, end) / seconds;
  month.share_above_high = seconds_above(known, known.high, first, end) / seconds;
}

}  // namespace

std::vector<MonthSummary> summarise_months(const KnownTime& known) {
  std::vector<MonthSummary> months;
  for (std::size_t first = 0, end = 0; first < known.size(); first = end) {
    const Civil civil = civil_from_days(day_of(known.times_s[first]));
    months.push_back({civil.year, civil.month, 0, 0, 0, 0});
    const auto later = known.times_s.subspan(first);
    const auto next = std::lower_bound(later.begin(), later.end(), next_month_s(months.back()));
    end = first + static_cast<std::size_t>(next - later.begin());
    summarise(known, first, end, months.back());
  }
  return months;
}

int worst_month(const std::vector<MonthSummary>& months) {
  const auto badness = [](const MonthSummary& m) {
    return std::make_tuple(m.share_above_high * m.known_hours, m.share_above_low * m.known_hours,
                           m.mean_rh_percent);
  };
  int worst = -1;
  for (std::size_t i = 0; i < months.size(); ++i) {
    if (worst < 0 || badness(months[i]) > badness(months[static_cast<std::size_t>(worst)])) {
      worst = static_cast<int>(i);
    }
  }
  return worst;
}

}  // namespace aeruca::detail
