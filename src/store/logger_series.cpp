#include "store/logger_series.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "aeruca/errors.hpp"
#include "base/large_pages.hpp"
#include "base/text.hpp"
#include "store/logger_order.hpp"

namespace aeruca::detail {
namespace {

std::string file_name(const JoinedFile* file) {
  return file == nullptr ? std::string() : file->file;
}

std::string hours_text(double seconds) {
  return format_number(seconds / 3600.0, 4) + " h";
}

void mark_gaps(const LoggerRecord& r, const FieldNames& names, FaultLog& log) {
  for (const std::size_t i : r.gap_ends()) {
    const JoinedFile* file = r.file_of(i);
    log.add(
        FaultKind::gap, FaultAction::kept, r.lines[i], names.time,
        [&] {
          const auto step = static_cast<double>(r.times_s[i] - r.times_s[i - 1]);
          return "no reading from " + format_time(r.times_s[i - 1]) + " to " +
                 format_time(r.times_s[i]) + " (" + hours_text(step) + "; the usual interval is " +
                 hours_text(file == nullptr ? r.interval_s : file->interval_s) + ")";
        },
        file_name(file));
  }
}

// A door opened for an hour is no spike: its neighbours must be near in time.
constexpr double kSpikeNeighbourSeconds = 3600;

void mark_spikes(const LoggerRecord& r, const FieldNames& names, const LoggerReadOptions& options,
                 FaultLog& log) {
  const double least = options.spike_rh_percent;
  const auto is_near = [&](std::size_t i) {
    return static_cast<double>(r.times_s[i] - r.times_s[i - 1]) <= kSpikeNeighbourSeconds &&
           !r.is_gap_before(i);
  };
  for (std::size_t i = 1; i + 1 < r.size(); ++i) {
    const double before = r.rh_percent[i] - r.rh_percent[i - 1];
    if (!(std::abs(before) > least)) continue;
    const double after = r.rh_percent[i] - r.rh_percent[i + 1];
    const bool stands_out = before > 0 ? after > least : after < -least;
    if (!stands_out || std::abs(after - before) > least / 3) continue;
    if (!is_near(i) || !is_near(i + 1)) continue;
    log.add(
        FaultKind::spike, FaultAction::kept, r.lines[i], names.rh,
        [&] {
          return format_number(r.rh_percent[i], 4) + " % between " +
                 format_number(r.rh_percent[i - 1], 4) + " and " +
                 format_number(r.rh_percent[i + 1], 4) +
                 ": there and back in one reading; kept as read";
        },
        file_name(r.file_of(i)));
  }
}

// Whether the sensor stood still from reading i - 1 to i.
bool still(const LoggerRecord& r, std::size_t i) {
  if (r.rh_percent[i] != r.rh_percent[i - 1]) return false;
  const double t = r.temperature_c[i];
  const double before = r.temperature_c[i - 1];
  if (t != before && !(std::isnan(t) && std::isnan(before))) return false;
  return !r.is_gap_before(i);
}

// A stretch of k readings or more holds a reading whose number is a multiple of k: only those need
// be looked at.
void mark_stuck(const FieldNames& names, const LoggerReadOptions& options, LoggerRecord& r,
                FaultLog& log) {
  std::size_t next = 0;  // behind the stretch found last
  for (std::size_t at = 0; at < r.size(); at += options.stuck_readings) {
    if (at < next) continue;
    std::size_t first = at;
    while (first > 0 && still(r, first)) --first;
    next = at + 1;
    while (next < r.size() && still(r, next)) ++next;
    const auto seconds = static_cast<double>(r.times_s[next - 1] - r.times_s[first]);
    if (next - first < options.stuck_readings || seconds < options.stuck_hours * 3600) continue;
    r.stuck.push_back({first, next - 1});
    const JoinedFile* last_file = r.file_of(next - 1);
    log.add(
        FaultKind::stuck_sensor, FaultAction::kept, r.lines[first], names.rh,
        [&] {
          return "exactly " + format_number(r.rh_percent[first], 6) + " % for " +
                 hours_text(seconds) + " (" + std::to_string(next - first) + " readings to line " +
                 std::to_string(r.lines[next - 1]) +
                 (last_file == r.file_of(first) ? "" : " of '" + last_file->file + "'") +
                 "); kept, assessed as not known";
        },
        file_name(r.file_of(first)));
  }
}

}  // namespace

void FaultLog::move_into(LoggerRecord& record) {
  std::stable_sort(record_.faults.begin(), record_.faults.end(),
                   [](const LoggerFault& a, const LoggerFault& b) {
                     return std::tie(a.file, a.line) < std::tie(b.file, b.line);
                   });
  record.faults = std::move(record_.faults);
  record.fault_counts = record_.fault_counts;
}

void FaultLog::take_over(const LoggerRecord& record) {
  const auto anew = [](FaultKind kind) {
    return kind == FaultKind::gap || kind == FaultKind::stuck_sensor || kind == FaultKind::spike;
  };
  std::array<std::size_t, kFaultKinds> room{};
  for (std::size_t kind = 0; kind < kFaultKinds; ++kind) {
    if (anew(static_cast<FaultKind>(kind))) continue;
    room[kind] = listed_ - std::min(listed_, record_.fault_counts[kind]);
    record_.fault_counts[kind] += record.fault_counts[kind];
  }
  for (const LoggerFault& fault : record.faults) {
    if (room[static_cast<std::size_t>(fault.kind)] == 0) continue;
    --room[static_cast<std::size_t>(fault.kind)];
    record_.faults.push_back(fault);
    record_.faults.back().file = record.file;
  }
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
  record.gap_limit_s = gap_limit_s(record.interval_s, options);
  record.times_s = std::move(series.times_s);
  record.temperature_c = std::move(series.temperature_c);
  record.rh_percent = std::move(series.rh_percent);
  record.lines = std::move(series.lines);
  mark_what_is_not_known(record, names, options, log);
  return record;
}

double gap_limit_s(double interval_s, const LoggerReadOptions& options) {
  return std::min(options.gap_factor * interval_s, kLongestGapSeconds);
}

void mark_what_is_not_known(LoggerRecord& record, const FieldNames& names,
                            const LoggerReadOptions& options, FaultLog& log) {
  mark_gaps(record, names, log);
  mark_stuck(names, options, record, log);
  mark_spikes(record, names, options, log);
  log.move_into(record);
}

}  // namespace aeruca::detail
