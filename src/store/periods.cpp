#include "store/periods.hpp"

#include <algorithm>
#include <array>
#include <tuple>

#include "base/calendar.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;
constexpr std::int64_t kWeekDays = 7;
constexpr int kSeasons = 4;

std::int64_t day_of(std::int64_t time_s) {
  return (time_s >= 0 ? time_s : time_s - kDaySeconds + 1) / kDaySeconds;
}

// Known time, and how humid it was.
struct Sums {
  double seconds = 0;
  double humid = 0;  // % RH at the surface, times seconds
  double above_low = 0;
  double above_high = 0;

  Sums& operator+=(const Sums& other) {
    seconds += other.seconds;
    humid += other.humid;
    above_low += other.above_low;
    above_high += other.above_high;
    return *this;
  }
  [[nodiscard]] PeriodSummary summary() const {
    return {seconds / 3600, humid / seconds, above_low / seconds, above_high / seconds};
  }
  // The worse has more time above `high`, then above `low`, then is more humid.
  [[nodiscard]] bool is_worse_than(const Sums& other) const {
    return std::make_tuple(above_high, above_low, humid / seconds) >
           std::make_tuple(other.above_high, other.above_low, other.humid / other.seconds);
  }
};

struct Day {
  std::int64_t day = 0;  // since 1970-01-01
  Sums sums;
};

// Readings from `first` to before `end`.
Sums sums_of(const KnownTime& known, std::size_t first, std::size_t end) {
  // Four sums, so that none waits for the one before.
  std::array<double, 4> seconds{};
  std::array<double, 4> humid{};
  std::size_t i = first;
  for (; i + 4 <= end; i += 4) {
    for (std::size_t k = 0; k < 4; ++k) {
      seconds[k] += known.seconds[i + k];
      humid[k] += known.seconds[i + k] * known.surface_rh[i + k];
    }
  }
  for (; i < end; ++i) {
    seconds[0] += known.seconds[i];
    humid[0] += known.seconds[i] * known.surface_rh[i];
  }
  const auto whole = [](const std::array<double, 4>& sums) {
    return (sums[0] + sums[1]) + (sums[2] + sums[3]);
  };
  return {whole(seconds), whole(humid), seconds_above(known, known.low, first, end),
          seconds_above(known, known.high, first, end)};
}

std::vector<Day> days_of(const KnownTime& known) {
  std::vector<Day> days;
  for (std::size_t first = 0, end = 0; first < known.size(); first = end) {
    const std::int64_t day = day_of(known.times_s[first]);
    const auto later = known.times_s.subspan(first);
    // A day of a logger holds few readings of many: the step doubles until it is passed.
    std::size_t reach = 64;
    const std::int64_t next_s = (day + 1) * kDaySeconds;
    while (reach < later.size() && later[reach] < next_s) reach *= 2;
    const auto next = std::lower_bound(
        later.begin(), later.begin() + static_cast<std::ptrdiff_t>(std::min(reach, later.size())),
        next_s);
    end = first + static_cast<std::size_t>(next - later.begin());
    days.push_back({day, sums_of(known, first, end)});
  }
  return days;
}

void add_months(const std::vector<Day>& days, Periods& periods) {
  std::vector<Sums> sums;
  for (const Day& day : days) {
    const Civil civil = civil_from_days(day.day);
    if (periods.months.empty() || periods.months.back().month != civil.month ||
        periods.months.back().year != civil.year) {
      periods.months.push_back({{}, civil.year, civil.month});
      sums.emplace_back();
    }
    sums.back() += day.sums;
  }
  for (std::size_t i = 0; i < sums.size(); ++i) {
    static_cast<PeriodSummary&>(periods.months[i]) = sums[i].summary();
    const bool worse = periods.worst_month < 0 ||
                       sums[i].is_worse_than(sums[static_cast<std::size_t>(periods.worst_month)]);
    if (worse) periods.worst_month = static_cast<int>(i);
  }
}

void add_seasons(const std::vector<Day>& days, Periods& periods) {
  std::array<Sums, kSeasons> sums;
  for (const Day& day : days)
    sums[static_cast<std::size_t>(civil_from_days(day.day).month % 12 / 3)] += day.sums;
  for (std::size_t i = 0; i < sums.size(); ++i) {
    if (!(sums[i].seconds > 0)) continue;
    const int first_month = i == 0 ? 12 : 3 * static_cast<int>(i);
    periods.seasons.push_back({sums[i].summary(), first_month});
  }
}

void add_worst_week(const std::vector<Day>& days, Periods& periods) {
  Sums worst;
  for (std::size_t first = 0; first < days.size(); ++first) {
    Sums week;
    for (std::size_t i = first; i < days.size() && days[i].day < days[first].day + kWeekDays; ++i)
      week += days[i].sums;
    if (worst.seconds > 0 && !week.is_worse_than(worst)) continue;
    worst = week;
    periods.worst_week = {week.summary(), days[first].day * kDaySeconds};
  }
}

}  // namespace

Periods periods_of(const KnownTime& known) {
  const std::vector<Day> days = days_of(known);
  Periods periods;
  add_months(days, periods);
  add_seasons(days, periods);
  add_worst_week(days, periods);
  return periods;
}

}  // namespace aeruca::detail
