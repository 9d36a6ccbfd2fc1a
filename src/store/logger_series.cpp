#include "store/logger_series.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kHour = 3600;

std::string hours_text(double seconds) {
  return format_number(seconds / 3600.0, 4) + " h";
}

// Median of the positive intervals. Loggers keep their interval, so a majority vote nearly always
// answers in one pass.
double median_interval(const std::vector<std::int64_t>& times) {
  std::vector<std::int64_t> intervals;
  intervals.reserve(times.size());
  std::int64_t candidate = 0;
  std::int64_t votes = 0;
  for (std::size_t i = 1; i < times.size(); ++i) {
    const std::int64_t d = std::abs(times[i] - times[i - 1]);
    if (d == 0) continue;
    intervals.push_back(d);
    if (votes == 0) candidate = d;
    votes += d == candidate ? 1 : -1;
  }
  if (intervals.empty()) return 0;
  const auto agreeing = std::count(intervals.begin(), intervals.end(), candidate);
  if (static_cast<std::size_t>(agreeing) * 2 > intervals.size())
    return static_cast<double>(candidate);
  const auto middle = intervals.begin() + static_cast<std::ptrdiff_t>((intervals.size() - 1) / 2);
  std::nth_element(intervals.begin(), middle, intervals.end());
  return static_cast<double>(*middle);
}

// The record and everything that is needed to write its faults.
class Ordering {
 public:
  Ordering(RawSeries& series, bool utc, const FieldNames& names, FaultLog& log)
      : s_(series),
        utc_(utc),
        names_(names),
        log_(log),
        interval_(median_interval(series.times_s)) {}

  void run() {
    turn_round();
    mark_disorder();
    if (!strictly_increasing()) {
      sort();
      drop_repeated();
    }
    mark_clock_forward();
  }
  [[nodiscard]] double interval() const { return interval_; }

 private:
  void turn_round() {
    std::size_t falling = 0;
    for (std::size_t i = 1; i < s_.times_s.size(); ++i)
      falling += s_.times_s[i] < s_.times_s[i - 1] ? 1U : 0U;
    if (s_.times_s.size() < 3 || falling * 2 <= s_.times_s.size()) return;
    log_.add(FaultKind::out_of_order, FaultAction::moved, s_.lines.front(), names_.time, [] {
      return std::string("the file runs from the newest to the oldest reading; turned round");
    });
    std::reverse(s_.times_s.begin(), s_.times_s.end());
    std::reverse(s_.temperature_c.begin(), s_.temperature_c.end());
    std::reverse(s_.rh_percent.begin(), s_.rh_percent.end());
    std::reverse(s_.lines.begin(), s_.lines.end());
  }

  // Local times of a logger that follows the civil clock repeat or leave out one hour.
  [[nodiscard]] bool jumped(std::int64_t step, std::int64_t by) const {
    if (utc_ || interval_ <= 0 || interval_ > kHour) return false;
    return std::abs(static_cast<double>(step - by) - interval_) <= std::max(1.0, interval_ / 20);
  }

  [[nodiscard]] bool same_values(std::size_t i, std::size_t j) const {
    const bool same_t = s_.temperature_c[i] == s_.temperature_c[j] ||
                        (std::isnan(s_.temperature_c[i]) && std::isnan(s_.temperature_c[j]));
    return same_t && s_.rh_percent[i] == s_.rh_percent[j];
  }

  void mark_disorder() {
    if (s_.times_s.empty()) return;
    std::int64_t latest = s_.times_s.front();
    std::int64_t repeated_from = latest;  // the stretch that a clock put back repeats
    std::int64_t repeated_until = latest - 1;
    for (std::size_t i = 1; i < s_.times_s.size(); ++i) {
      const std::int64_t time = s_.times_s[i];
      const std::int64_t step = time - s_.times_s[i - 1];
      if (step <= 0 && jumped(step, -kHour) && !(step == 0 && same_values(i, i - 1))) {
        repeated_from = time;
        repeated_until = latest;
        note_clock(i, "back by one hour");
      } else if (time < latest && (time < repeated_from || time > repeated_until)) {
        note_disorder(i, latest);
      }
      latest = std::max(latest, time);
    }
  }

  // Where a line was dropped, the hour is missing for a known reason.
  void mark_clock_forward() {
    for (std::size_t i = 1; i < s_.times_s.size(); ++i) {
      const bool neighbours = std::abs(s_.lines[i] - s_.lines[i - 1]) == 1;
      if (neighbours && jumped(s_.times_s[i] - s_.times_s[i - 1], kHour)) {
        note_clock(i, "forward by one hour, or a reading left out");
      }
    }
  }

  void note_clock(std::size_t i, const char* change) {
    log_.add(FaultKind::clock_change, FaultAction::kept, s_.lines[i], names_.time, [&] {
      return format_time(s_.times_s[i]) + " follows " + format_time(s_.times_s[i - 1]) +
             ": clock put " + change + "; daylight saving suspected, times kept as written";
    });
  }

  void note_disorder(std::size_t i, std::int64_t latest) {
    log_.add(FaultKind::out_of_order, FaultAction::moved, s_.lines[i], names_.time, [&] {
      return format_time(s_.times_s[i]) + " stands after " + format_time(latest) +
             "; moved to its place";
    });
  }

  [[nodiscard]] bool strictly_increasing() const {
    return std::adjacent_find(s_.times_s.begin(), s_.times_s.end(), std::greater_equal<>()) ==
           s_.times_s.end();
  }

  void sort() {
    std::vector<std::size_t> order(s_.times_s.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return s_.times_s[a] < s_.times_s[b]; });
    RawSeries sorted;
    sorted.reserve(order.size());
    for (const std::size_t i : order) {
      sorted.add(s_.times_s[i], s_.temperature_c[i], s_.rh_percent[i], s_.lines[i]);
    }
    s_ = std::move(sorted);
  }

  void drop_repeated() {
    RawSeries kept;
    kept.reserve(s_.times_s.size());
    std::size_t last = 0;
    for (std::size_t i = 0; i < s_.times_s.size(); ++i) {
      if (i > 0 && s_.times_s[i] == s_.times_s[last]) {
        note_repeated(i, last);
        continue;
      }
      kept.add(s_.times_s[i], s_.temperature_c[i], s_.rh_percent[i], s_.lines[i]);
      last = i;
    }
    s_ = std::move(kept);
  }

  void note_repeated(std::size_t i, std::size_t first) {
    const std::string when = format_time(s_.times_s[i]);
    const std::string line = std::to_string(s_.lines[first]);
    if (same_values(i, first)) {
      log_.add(FaultKind::duplicate, FaultAction::dropped, s_.lines[i], names_.time,
               [&] { return when + " repeats line " + line + " with the same values; dropped"; });
      return;
    }
    const bool rh_differs = s_.rh_percent[i] != s_.rh_percent[first];
    const auto& values = rh_differs ? s_.rh_percent : s_.temperature_c;
    log_.add(FaultKind::conflicting_duplicate, FaultAction::dropped, s_.lines[i],
             rh_differs ? names_.rh : names_.temperature, [&] {
               return when + " has " + format_number(values[i], 6) + " where line " + line +
                      " has " + format_number(values[first], 6) +
                      "; the first is kept, this line dropped";
             });
  }

  RawSeries& s_;
  bool utc_;
  const FieldNames& names_;
  FaultLog& log_;
  double interval_;
};

void mark_gaps(const RawSeries& s, const LoggerRecord& record, const FieldNames& names,
               FaultLog& log) {
  if (record.interval_s <= 0) return;
  for (std::size_t i = 1; i < s.times_s.size(); ++i) {
    const auto step = static_cast<double>(s.times_s[i] - s.times_s[i - 1]);
    if (step <= record.gap_limit_s) continue;
    log.add(FaultKind::gap, FaultAction::kept, s.lines[i], names.time, [&] {
      return "no reading from " + format_time(s.times_s[i - 1]) + " to " +
             format_time(s.times_s[i]) + " (" + hours_text(step) + "; the usual interval is " +
             hours_text(record.interval_s) + ")";
    });
  }
}

void mark_stuck(const RawSeries& s, const FieldNames& names, const LoggerReadOptions& options,
                LoggerRecord& record, FaultLog& log) {
  const std::size_t n = s.times_s.size();
  for (std::size_t first = 0, next = 0; first < n; first = next) {
    const bool no_temperature = std::isnan(s.temperature_c[first]);
    for (next = first + 1; next < n; ++next) {
      const bool same_t = s.temperature_c[next] == s.temperature_c[first] ||
                          (no_temperature && std::isnan(s.temperature_c[next]));
      if (!same_t || s.rh_percent[next] != s.rh_percent[first]) break;
      if (static_cast<double>(s.times_s[next] - s.times_s[next - 1]) > record.gap_limit_s) break;
    }
    const auto seconds = static_cast<double>(s.times_s[next - 1] - s.times_s[first]);
    if (next - first < options.stuck_readings || seconds < options.stuck_hours * 3600) continue;
    record.stuck.push_back({first, next - 1});
    log.add(FaultKind::stuck_sensor, FaultAction::kept, s.lines[first], names.rh, [&] {
      return "exactly " + format_number(s.rh_percent[first], 6) + " % for " + hours_text(seconds) +
             " (" + std::to_string(next - first) + " readings to line " +
             std::to_string(s.lines[next - 1]) + "); kept, assessed as not known";
    });
  }
}

}  // namespace

void FaultLog::move_into(LoggerRecord& record) {
  std::stable_sort(record_.faults.begin(), record_.faults.end(),
                   [](const LoggerFault& a, const LoggerFault& b) { return a.line < b.line; });
  record.faults = std::move(record_.faults);
  record.fault_counts = record_.fault_counts;
}

void RawSeries::reserve(std::size_t rows) {
  times_s.reserve(rows);
  temperature_c.reserve(rows);
  rh_percent.reserve(rows);
  lines.reserve(rows);
}

void RawSeries::add(std::int64_t time_s, double temperature, double rh, long line) {
  times_s.push_back(time_s);
  temperature_c.push_back(temperature);
  rh_percent.push_back(rh);
  lines.push_back(line);
}

void check_options(const LoggerReadOptions& options) {
  const auto want = [](bool fine, const char* name, double value, const char* accepted) {
    if (!fine) throw InputError(name, value, accepted);
  };
  want(options.max_bad_share >= 0 && options.max_bad_share <= 1, "max_bad_share",
       options.max_bad_share, "0 to 1");
  want(options.rh_over_tolerance_percent >= 0 && options.rh_over_tolerance_percent <= 20,
       "rh_over_tolerance_percent", options.rh_over_tolerance_percent, "0 to 20 % RH");
  want(options.gap_factor >= 1.5, "gap_factor", options.gap_factor, "1.5 or more");
  want(options.stuck_hours > 0, "stuck_hours", options.stuck_hours, "more than 0 h");
  want(options.stuck_readings >= 2, "stuck_readings", static_cast<double>(options.stuck_readings),
       "2 or more");
}

bool check_possible(double temperature_c, double rh_percent, long line, const FieldNames& names,
                    const LoggerReadOptions& options, FaultLog& log) {
  constexpr double kColdest = -40;
  constexpr double kHottest = 80;
  const double highest = 100 + options.rh_over_tolerance_percent;
  if (!(rh_percent >= 0 && rh_percent <= highest)) {
    log.add(FaultKind::impossible_value, FaultAction::dropped, line, names.rh, [&] {
      return format_number(rh_percent, 6) + " % RH cannot be; accepted is 0 to " +
             format_number(highest, 4) + "; line dropped";
    });
    return false;
  }
  if (temperature_c < kColdest || temperature_c > kHottest) {
    log.add(FaultKind::impossible_value, FaultAction::dropped, line, names.temperature, [&] {
      return format_number(temperature_c, 6) +
             " degrees C cannot be in a store; accepted is -40 to 80; line dropped";
    });
    return false;
  }
  return true;
}

LoggerRecord order_series(RawSeries series, bool utc, const FieldNames& names,
                          const LoggerReadOptions& options, FaultLog& log) {
  Ordering ordering(series, utc, names, log);
  ordering.run();
  LoggerRecord record;
  record.utc = utc;
  record.interval_s = ordering.interval();
  record.gap_limit_s = std::min(options.gap_factor * record.interval_s, kLongestGapSeconds);
  mark_gaps(series, record, names, log);
  mark_stuck(series, names, options, record, log);
  record.times_s = std::move(series.times_s);
  record.temperature_c = std::move(series.temperature_c);
  record.rh_percent = std::move(series.rh_percent);
  log.move_into(record);
  return record;
}

}  // namespace aeruca::detail
