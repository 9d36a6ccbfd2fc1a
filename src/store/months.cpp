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

// Sums become means and shares.
void finish(MonthSummary& month) {
  month.mean_rh_percent /= month.known_hours;
  month.share_above_low /= month.known_hours;
  month.share_above_high /= month.known_hours;
}

}  // namespace

std::vector<MonthSummary> summarise_months(const KnownTime& known) {
  std::vector<MonthSummary> months;
  std::int64_t end_s = 0;
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (months.empty() || known.times_s[i] >= end_s) {
      const Civil civil = civil_from_days(day_of(known.times_s[i]));
      months.push_back({civil.year, civil.month, 0, 0, 0, 0});
      end_s = next_month_s(months.back());
    }
    MonthSummary& month = months.back();
    const double hours = known.seconds[i] / 3600;
    month.known_hours += hours;
    month.mean_rh_percent += hours * known.surface_rh[i];
    month.share_above_low += known.margin_low[i] < 0 ? hours : 0.0;
    month.share_above_high += known.margin_high[i] < 0 ? hours : 0.0;
  }
  for (MonthSummary& month : months) finish(month);
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
