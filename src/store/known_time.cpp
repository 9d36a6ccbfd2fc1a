#include "store/known_time.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "store/surface.hpp"

namespace aeruca::detail {
namespace {

// Limits at a surface temperature, by linear interpolation; `known` is false outside the table.
struct Limits {
  double low = 0;
  double high = 0;  // `low` when the onset has no upper end
  bool known = true;
};

Limits limits_at(const OnsetCurve& onset, double surface_c) {
  const auto& t = onset.temperature_c;
  const auto& low = onset.low_rh_percent;
  const auto& high = std::isnan(onset.high_rh_percent[0]) ? low : onset.high_rh_percent;
  if (t.size() == 1) return {low[0], high[0], true};
  if (!(surface_c >= t.front() && surface_c <= t.back())) return {0, 0, false};
  auto right =
      static_cast<std::size_t>(std::upper_bound(t.begin(), t.end(), surface_c) - t.begin());
  right = std::min(right, t.size() - 1);
  const double part = (surface_c - t[right - 1]) / (t[right] - t[right - 1]);
  const auto between = [&](const std::vector<double>& y) {
    return y[right - 1] + part * (y[right] - y[right - 1]);
  };
  return {between(low), between(high), true};
}

void reserve(KnownTime& known, std::size_t n) {
  known.times_s.reserve(n);
  known.rh_percent.reserve(n);
  known.temperature_c.reserve(n);
  known.surface_rh.reserve(n);
  known.margin_low.reserve(n);
  known.margin_high.reserve(n);
  known.joined.reserve(n);
}

// Half the interval to each joined neighbour; half the median interval on an open side; never more
// than half of kLongestStand.
void weigh(KnownTime& known, double open_s) {
  const std::size_t n = known.joined.size();
  known.seconds.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    const auto step = [&](std::size_t right) {
      return std::min(static_cast<double>(known.times_s[right] - known.times_s[right - 1]),
                      kLongestStandSeconds);
    };
    const double before = known.joined[i] != 0 ? step(i) : open_s;
    const double after = i + 1 < n && known.joined[i + 1] != 0 ? step(i + 1) : open_s;
    known.seconds[i] = 0.5 * (before + after);
    known.total_s += known.seconds[i];
  }
}

}  // namespace

double stand_s(const LoggerRecord& record) {
  return std::min(record.interval_s, kLongestStandSeconds);
}

KnownTime known_time(const LoggerRecord& record, const StoreOptions& options) {
  const bool needs_temperature = options.cooler_c != 0 || options.onset.temperature_c.size() > 1;
  if (needs_temperature && !record.has_temperature()) {
    throw InputError(
        options.cooler_c != 0 ? "cooler_c" : "onset",
        options.cooler_c != 0 ? format_number(options.cooler_c) : options.onset.id,
        "0 and a limit that does not change with temperature, for the record has no temperatures");
  }
  KnownTime known;
  reserve(known, record.size());
  const VapourRatio ratio(options.cooler_c);
  const Limits constant = needs_temperature ? Limits{} : limits_at(options.onset, 0);
  std::size_t stretch = 0;
  std::size_t previous = record.size();
  for (std::size_t i = 0; i < record.size(); ++i) {
    while (stretch < record.stuck.size() && record.stuck[stretch].last < i) ++stretch;
    if (stretch < record.stuck.size() && i >= record.stuck[stretch].first) {
      ++known.stuck;
      continue;
    }
    const double t = record.temperature_c[i];
    Limits limits = constant;
    double factor = 1;
    if (needs_temperature) {
      if (ratio.covers(t)) limits = limits_at(options.onset, t - options.cooler_c);
      if (!ratio.covers(t) || !limits.known) {
        ++known.outside;
        continue;
      }
      factor = ratio(t);
    }
    const double rh = record.rh_percent[i];
    const bool next_to_previous =
        previous + 1 == i &&
        static_cast<double>(record.times_s[i] - record.times_s[previous]) <= record.gap_limit_s;
    known.joined.push_back(next_to_previous ? 1 : 0);
    known.times_s.push_back(record.times_s[i]);
    known.rh_percent.push_back(rh);
    known.temperature_c.push_back(t);
    known.surface_rh.push_back(rh * factor);
    known.margin_low.push_back(limits.low / factor - rh);  // eq 2
    known.margin_high.push_back(limits.high / factor - rh);
    previous = i;
  }
  weigh(known, stand_s(record));
  return known;
}

double share_above(const KnownTime& known, std::span<const double> margins, double bias) {
  double seconds = 0;
  for (std::size_t i = 0; i < margins.size(); ++i)
    seconds += margins[i] < bias ? known.seconds[i] : 0.0;
  return seconds / known.total_s;
}

}  // namespace aeruca::detail
