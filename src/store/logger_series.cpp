#include "store/logger_series.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "base/large_pages.hpp"
#include "base/text.hpp"
#include "store/logger_order.hpp"

namespace aeruca::detail {
namespace {

std::string hours_text(double seconds) {
  return format_number(seconds / 3600.0, 4) + " h";
}

void mark_gaps(const RawSeries& s, const LoggerRecord& record, const FieldNames& names,
               FaultLog& log) {
  if (record.interval_s <= 0) return;
  each_step_above(s.times_s, record.gap_limit_s, [&](std::size_t i) {
    log.add(FaultKind::gap, FaultAction::kept, s.lines[i], names.time, [&] {
      const auto step = static_cast<double>(s.times_s[i] - s.times_s[i - 1]);
      return "no reading from " + format_time(s.times_s[i - 1]) + " to " +
             format_time(s.times_s[i]) + " (" + hours_text(step) + "; the usual interval is " +
             hours_text(record.interval_s) + ")";
    });
  });
}

// A door opened for an hour is no spike: its neighbours must be near in time.
constexpr double kSpikeNeighbourSeconds = 3600;

void mark_spikes(const RawSeries& s, const LoggerRecord& record, const FieldNames& names,
                 const LoggerReadOptions& options, FaultLog& log) {
  const double least = options.spike_rh_percent;
  const double near_s = std::min(record.gap_limit_s, kSpikeNeighbourSeconds);
  for (std::size_t i = 1; i + 1 < s.size(); ++i) {
    const double before = s.rh_percent[i] - s.rh_percent[i - 1];
    if (!(std::abs(before) > least)) continue;
    const double after = s.rh_percent[i] - s.rh_percent[i + 1];
    const bool stands_out = before > 0 ? after > least : after < -least;
    if (!stands_out || std::abs(after - before) > least / 3) continue;
    if (static_cast<double>(s.times_s[i] - s.times_s[i - 1]) > near_s ||
        static_cast<double>(s.times_s[i + 1] - s.times_s[i]) > near_s)
      continue;
    log.add(FaultKind::spike, FaultAction::kept, s.lines[i], names.rh, [&] {
      return format_number(s.rh_percent[i], 4) + " % between " +
             format_number(s.rh_percent[i - 1], 4) + " and " +
             format_number(s.rh_percent[i + 1], 4) +
             ": there and back in one reading; kept as read";
    });
  }
}

// Whether the sensor stood still from reading i - 1 to i.
class Stillness {
 public:
  Stillness(const RawSeries& series, double gap_limit_s) : s_(series), gap_limit_s_(gap_limit_s) {}

  bool operator()(std::size_t i) const {
    if (s_.rh_percent[i] != s_.rh_percent[i - 1]) return false;
    const double t = s_.temperature_c[i];
    const double before = s_.temperature_c[i - 1];
    if (t != before && !(std::isnan(t) && std::isnan(before))) return false;
    return static_cast<double>(s_.times_s[i] - s_.times_s[i - 1]) <= gap_limit_s_;
  }

 private:
  const RawSeries& s_;
  double gap_limit_s_;
};

// A stretch of k readings or more holds a reading whose number is a multiple of k: only those need
// be looked at.
void mark_stuck(const RawSeries& s, const FieldNames& names, const LoggerReadOptions& options,
                LoggerRecord& record, FaultLog& log) {
  const Stillness still(s, record.gap_limit_s);
  std::size_t next = 0;  // behind the stretch found last
  for (std::size_t at = 0; at < s.size(); at += options.stuck_readings) {
    if (at < next) continue;
    std::size_t first = at;
    while (first > 0 && still(first)) --first;
    next = at + 1;
    while (next < s.size() && still(next)) ++next;
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
  reserve_large(times_s, rows);
  reserve_large(temperature_c, rows);
  reserve_large(rh_percent, rows);
}

void RawSeries::add(std::int64_t time_s, double temperature, double rh, long line) {
  times_s.push_back(time_s);
  temperature_c.push_back(temperature);
  rh_percent.push_back(rh);
  lines.add(line);
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
  want(options.spike_rh_percent > 0, "spike_rh_percent", options.spike_rh_percent,
       "more than 0 % RH");
}

bool check_possible(double temperature_c, double rh_percent, long line, const FieldNames& names,
                    const LoggerReadOptions& options, FaultLog& log) {
  const double highest = 100 + options.rh_over_tolerance_percent;
  if (!(rh_percent >= 0 && rh_percent <= highest)) {
    log.add(FaultKind::impossible_value, FaultAction::dropped, line, names.rh, [&] {
      return format_number(rh_percent, 6) + " % RH cannot be; accepted is 0 to " +
             format_number(highest, 4) + "; line dropped";
    });
    return false;
  }
  if (temperature_c < kColdestC || temperature_c > kHottestC) {
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
  LoggerRecord record;
  record.utc = utc;
  record.interval_s = put_in_order(series, utc, names, log);
  record.gap_limit_s = std::min(options.gap_factor * record.interval_s, kLongestGapSeconds);
  mark_gaps(series, record, names, log);
  mark_stuck(series, names, options, record, log);
  mark_spikes(series, record, names, options, log);
  record.times_s = std::move(series.times_s);
  record.temperature_c = std::move(series.temperature_c);
  record.rh_percent = std::move(series.rh_percent);
  log.move_into(record);
  return record;
}

}  // namespace aeruca::detail
