#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/logger.hpp"
#include "aeruca/not_given.hpp"
#include "base/calendar.hpp"
#include "base/text.hpp"
#include "store/logger_order.hpp"
#include "store/logger_series.hpp"

namespace aeruca {
namespace {

void check_lengths(std::size_t times, std::size_t temperatures, std::size_t humidities) {
  if (times == 0) throw InputError("times_s", "no values", "at least one time");
  if (humidities != times) {
    throw InputError("rh_percent", std::to_string(humidities) + " values",
                     std::to_string(times) + " values, one for each time");
  }
  if (temperatures != 0 && temperatures != times) {
    throw InputError("temperature_c", std::to_string(temperatures) + " values",
                     std::to_string(times) + " values, one for each time, or none");
  }
}

void check_times(std::span<const std::int64_t> times_s) {
  for (const std::int64_t time : times_s) {
    if (detail::is_plausible_time(time)) continue;
    throw InputError("times_s", std::to_string(time),
                     "seconds since 1970-01-01 of the years 1900 to 2100");
  }
}

void refuse_if_bad(std::size_t rows, std::size_t good, double max_bad_share) {
  const std::size_t bad = rows - good;
  const double share = static_cast<double>(bad) / static_cast<double>(rows);
  if (bad == 0 || (share <= max_bad_share && good > 0)) return;
  throw InputError("rh_percent",
                   std::to_string(bad) + " of " + std::to_string(rows) + " readings unusable",
                   "at most " + detail::format_number(100 * max_bad_share, 4) + " %");
}

}  // namespace

std::string_view to_string(FaultKind kind) {
  switch (kind) {
    case FaultKind::unreadable:
      return "unreadable";
    case FaultKind::missing_value:
      return "missing value";
    case FaultKind::impossible_value:
      return "impossible value";
    case FaultKind::out_of_order:
      return "out of order";
    case FaultKind::duplicate:
      return "duplicate";
    case FaultKind::conflicting_duplicate:
      return "conflicting duplicate";
    case FaultKind::clock_change:
      return "clock change";
    case FaultKind::gap:
      return "gap";
    case FaultKind::stuck_sensor:
      return "stuck sensor";
    case FaultKind::spike:
      return "spike";
  }
  return "unknown";
}

std::string_view to_string(FaultAction action) {
  switch (action) {
    case FaultAction::dropped:
      return "dropped";
    case FaultAction::kept:
      return "kept";
    case FaultAction::moved:
      return "moved";
  }
  return "unknown";
}

std::string_view to_string(FileMeetingKind kind) {
  return kind == FileMeetingKind::overlap ? "overlap" : "seam";
}

bool LoggerRecord::has_temperature() const {
  return std::any_of(temperature_c.begin(), temperature_c.end(),
                     [](double t) { return !std::isnan(t); });
}

const JoinedFile* LoggerRecord::file_of(std::size_t reading) const {
  if (pieces.empty()) return nullptr;
  const auto after =
      std::upper_bound(pieces.begin(), pieces.end(), reading,
                       [](std::size_t at, const RecordPiece& piece) { return at < piece.first; });
  return &files[(after - 1)->file];
}

bool LoggerRecord::is_gap_before(std::size_t reading) const {
  const auto step = static_cast<double>(times_s[reading] - times_s[reading - 1]);
  if (pieces.empty()) return step > gap_limit_s;
  return step > std::max(file_of(reading - 1)->gap_limit_s, file_of(reading)->gap_limit_s);
}

std::vector<std::size_t> LoggerRecord::gap_ends() const {
  double shortest = gap_limit_s;
  for (const JoinedFile& one : files) {
    if (one.problem.empty()) shortest = std::min(shortest, one.gap_limit_s);
  }
  std::vector<std::size_t> ends;
  detail::each_step_above(times_s, shortest, [&](std::size_t i) {
    if (pieces.empty() || is_gap_before(i)) ends.push_back(i);
  });
  return ends;
}

LoggerRecord make_logger_record(std::span<const std::int64_t> times_s,
                                std::span<const double> temperature_c,
                                std::span<const double> rh_percent,
                                const LoggerReadOptions& options) {
  detail::check_options(options);
  check_lengths(times_s.size(), temperature_c.size(), rh_percent.size());
  check_times(times_s);
  const detail::FieldNames names;
  detail::FaultLog log(options.listed_faults);
  detail::RawSeries series;
  series.reserve(times_s.size());
  for (std::size_t i = 0; i < times_s.size(); ++i) {
    const auto line = static_cast<long>(i + 1);
    const double t = temperature_c.empty() ? kNotGiven : temperature_c[i];
    if (std::isnan(rh_percent[i])) {
      log.add(FaultKind::missing_value, FaultAction::dropped, line, names.rh,
              [] { return std::string("no humidity; reading dropped"); });
    } else if (detail::check_possible(t, rh_percent[i], line, names, options, log)) {
      series.add(times_s[i], t, rh_percent[i], line);
    }
  }
  refuse_if_bad(times_s.size(), series.times_s.size(), options.max_bad_share);
  LoggerRecord record = detail::order_series(std::move(series), false, names, options, log);
  record.rows = times_s.size();
  record.dropped = record.rows - record.size();
  return record;
}

std::string format_time(std::int64_t time_s) {
  return detail::iso_text(time_s);
}

}  // namespace aeruca
