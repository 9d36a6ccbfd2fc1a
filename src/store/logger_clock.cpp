#include "store/logger_clock.hpp"

#include <algorithm>
#include <cstdlib>

#include "aeruca/errors.hpp"
#include "base/calendar.hpp"
#include "base/text.hpp"
#include "store/logger_fields.hpp"
#include "store/logger_header.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;
constexpr std::int64_t kNoonSeconds = kDaySeconds / 2;
// A clock changed by an hour or two falls back without being in the wrong order.
constexpr std::int64_t kFallback = std::int64_t{2} * 3600;
// Two orders of day and month lie at least 28 days apart, less what a record leaves out.
constexpr std::int64_t kLeap = 20 * kDaySeconds;
constexpr std::int64_t kRunsOn = 2 * kDaySeconds;

const char* words(DayOrder order) {
  return order == DayOrder::day_first ? "day before month" : "month before day";
}

DayOrder other(DayOrder order) {
  return order == DayOrder::day_first ? DayOrder::month_first : DayOrder::day_first;
}

bool is_numeric(OrderSaid said) {
  return said != OrderSaid::by_shape;
}

// How the times of a file follow each other.
struct Course {
  std::size_t falls = 0;  // steps against the direction of the file
  std::int64_t longest = 0;
  std::size_t leaps = 0;

  void finish() { falls = downs_ > ups_ ? forth_ : back_; }
  void step(std::int64_t step_s) {
    ups_ += step_s > 0 ? 1U : 0U;
    downs_ += step_s < 0 ? 1U : 0U;
    back_ += step_s < -kFallback ? 1U : 0U;
    forth_ += step_s > kFallback ? 1U : 0U;
    leaps += std::abs(step_s) >= kLeap ? 1U : 0U;
    longest = std::max(longest, std::abs(step_s));
  }

 private:
  std::size_t ups_ = 0;
  std::size_t downs_ = 0;
  std::size_t back_ = 0;
  std::size_t forth_ = 0;
};

std::string leaps_text(const Course& course) {
  return "the clock would leap by a month or more " + std::to_string(course.leaps) +
         (course.leaps == 1 ? " time" : " times");
}

// Why the first course is that of the file and the second is not; empty when it need not be.
std::string why(const Course& right, const Course& wrong) {
  if (right.falls != 0 || right.longest > wrong.longest) return {};
  if (wrong.falls > 0)
    return "in the other order the clock would fall back " + std::to_string(wrong.falls) +
           (wrong.falls == 1 ? " time" : " times");
  if (right.longest <= kRunsOn && wrong.leaps > 0)
    return "the clock runs on in this order, and in the other " + leaps_text(wrong);
  return {};
}

}  // namespace

LoggerClock::LoggerClock(const LoggerReadOptions& options)
    : given_(options.date_order != DateOrder::from_file),
      given_order_(options.date_order == DateOrder::month_first ? DayOrder::month_first
                                                                : DayOrder::day_first) {}

LoggerClock::Answer LoggerClock::read(std::string_view date, std::optional<std::string_view> clock,
                                      long line) {
  const DayOrder order = state_ ? state_->order : given_order_;
  auto time = clock ? parse_written_time(date, *clock, order) : parse_written_time(date, order);
  const auto day = time || clock || (state_ && !state_->without_clock)
                       ? std::nullopt
                       : parse_written_date(date, order);
  if (day) time = WrittenTime{day->days * kDaySeconds + kNoonSeconds, false, day->said};
  const std::string found(clock ? std::string(date) + " " + std::string(*clock)
                                : std::string(date));
  if (!time) {
    return {{},
            shown(found) + " is no time that is read; accepted is for instance 2024-03-31T02:00"};
  }
  if (!is_plausible_time(time->seconds))
    return {{}, shown(found) + " lies outside the years 1900 to 2100 that are accepted"};
  if (!state_) start(*time, found, line);
  if (line == first_line_) state_->without_clock = day.has_value();
  if (state_->without_clock != day.has_value())
    return {{}, shown(found) + " has a time of day, unlike the dates before"};
  const std::string problem = misfit(*time, found);
  if (!problem.empty()) return {{}, problem};
  if (!state_->order_known) {
    if (time->said == OrderSaid::day_first) note_order(DayOrder::day_first, found, line);
    if (time->said == OrderSaid::month_first) note_order(DayOrder::month_first, found, line);
  }
  return {time->seconds, {}};
}

void LoggerClock::start(const WrittenTime& time, std::string_view text, long line) {
  ClockState state;
  state.utc = time.has_offset;
  state.numeric = is_numeric(time.said);
  state.since_1970 = text.find_first_not_of("0123456789") == std::string_view::npos;
  state.order_known = given_ || !state.numeric;
  state.order = given_order_;
  state_ = state;
  first_ = text;
  first_line_ = line;
}

std::string LoggerClock::misfit(const WrittenTime& time, std::string_view text) const {
  if (time.has_offset != state_->utc) {
    return shown(text) + (state_->utc ? " has no" : " has an") +
           " offset from UTC, unlike the lines before";
  }
  if (is_numeric(time.said) != state_->numeric)
    return shown(text) + " is written otherwise than the dates before";
  const bool against =
      (time.said == OrderSaid::day_first && state_->order == DayOrder::month_first) ||
      (time.said == OrderSaid::month_first && state_->order == DayOrder::day_first);
  if (state_->order_known && against)
    return shown(text) + " is no date with the " + words(state_->order) +
           (given_ ? ", as date_order says" : ", as the lines before");
  return {};
}

void LoggerClock::note_order(DayOrder order, std::string_view text, long line) {
  turn_ = order != state_->order;
  state_->order = order;
  state_->order_known = true;
  prove(order, shown(text) + " on line " + std::to_string(line) + " has a day above 12");
}

void LoggerClock::prove(DayOrder order, const std::string& by) {
  proof_ = std::string("dates are read ") + words(order) + ": " + by;
  proved_ = order == DayOrder::day_first ? DateOrder::day_first : DateOrder::month_first;
}

void LoggerClock::turn_if_proved_otherwise(RawSeries& series) {
  if (!turn_) return;
  turn_ = false;
  for (auto& time_s : series.times_s) time_s = day_and_month_exchanged(time_s).value_or(time_s);
}

void LoggerClock::settle(RawSeries& series, const std::string& file, const std::string& field) {
  if (!state_) return;
  settle_order(series, file, field);
  if (state_->without_clock) settle_days(series, file, field);
}

// One reading a day needs no time of day; of several, nobody can tell their order.
void LoggerClock::settle_days(const RawSeries& series, const std::string& file,
                              const std::string& field) {
  std::vector<std::int64_t> times = series.times_s;
  std::sort(times.begin(), times.end());
  const auto twice = std::adjacent_find(times.begin(), times.end());
  if (twice != times.end()) {
    const auto place = std::find(series.times_s.begin(), series.times_s.end(), *twice);
    const auto again = std::find(place + 1, series.times_s.end(), *twice);
    throw FileError(file, series.lines[static_cast<std::size_t>(again - series.times_s.begin())],
                    field,
                    "dates have no time of day, and this day has more than one reading; accepted "
                    "is the column with the time of day in " +
                        option_named("clock_column"));
  }
  if (!proof_.empty()) proof_ += "; ";
  proof_ += "dates have no time of day: one reading a day, taken at noon";
}

void LoggerClock::settle_order(RawSeries& series, const std::string& file,
                               const std::string& field) {
  if (state_->order_known) return;
  Course as_read;
  Course exchanged;
  bool matters = false;
  std::int64_t before = 0;
  for (std::size_t i = 0; i < series.size(); ++i) {
    const std::int64_t now = day_and_month_exchanged(series.times_s[i]).value_or(series.times_s[i]);
    matters = matters || now != series.times_s[i];
    if (i > 0) {
      as_read.step(series.times_s[i] - series.times_s[i - 1]);
      exchanged.step(now - before);
    }
    before = now;
  }
  state_->order_known = true;
  if (!matters) return;
  as_read.finish();
  exchanged.finish();
  std::string reason = why(as_read, exchanged);
  if (reason.empty()) {
    reason = why(exchanged, as_read);
    if (reason.empty()) {
      throw FileError(file, first_line_, field,
                      shown(first_) +
                          " may have its day first or its month, and nothing in the "
                          "file tells which; accepted is day_first or month_first in " +
                          option_named("date_order"));
    }
    state_->order = other(state_->order);
    turn_ = true;
    turn_if_proved_otherwise(series);
  }
  prove(state_->order, reason);
}

}  // namespace aeruca::detail
