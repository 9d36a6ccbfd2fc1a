#include "store/known_time.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/errors.hpp"
#include "base/large_pages.hpp"
#include "base/text.hpp"
#include "store/surface.hpp"

namespace aeruca::detail {
namespace {

// A limit curve at a surface temperature inside its table, by linear interpolation.
double interpolated(const std::vector<double>& t, const std::vector<double>& y, double surface_c) {
  if (t.size() == 1) return y[0];
  auto right =
      static_cast<std::size_t>(std::upper_bound(t.begin(), t.end(), surface_c) - t.begin());
  right = std::min(right, t.size() - 1);
  const double part = (surface_c - t[right - 1]) / (t[right] - t[right - 1]);
  return y[right - 1] + part * (y[right] - y[right - 1]);
}

// `low` when the onset has no upper end.
const std::vector<double>& upper_limits(const OnsetCurve& onset) {
  return std::isnan(onset.high_rh_percent[0]) ? onset.low_rh_percent : onset.high_rh_percent;
}

// The limits as humidities of the air, and the humidity at the surface over that of the air.
struct LimitsInAir {
  double low = 0;
  double high = 0;
  double surface_over_air = 1;
};

// By the temperature of the air; nothing where it is missing or outside what is valid.
class LimitsByTemperature {
 public:
  explicit LimitsByTemperature(const StoreOptions& options)
      : onset_(options.onset), cooler_c_(options.cooler_c), ratio_(options.cooler_c) {}

  [[nodiscard]] std::optional<LimitsInAir> at(double temperature_c) const {
    if (!ratio_.covers(temperature_c)) return {};
    const double surface_c = temperature_c - cooler_c_;
    const auto& t = onset_.temperature_c;
    if (t.size() > 1 && !(surface_c >= t.front() && surface_c <= t.back())) return {};
    const double ratio = ratio_(temperature_c);
    return LimitsInAir{interpolated(t, onset_.low_rh_percent, surface_c) / ratio,
                       interpolated(t, upper_limits(onset_), surface_c) / ratio, ratio};
  }

 private:
  const OnsetCurve& onset_;
  double cooler_c_;
  VapourRatio ratio_;
};

bool needs_temperature(const StoreOptions& options) {
  return options.cooler_c != 0 || options.onset.temperature_c.size() > 1;
}

void refuse_without_temperature(const StoreOptions& options) {
  throw InputError(
      options.cooler_c != 0 ? "cooler_c" : "onset",
      options.cooler_c != 0 ? format_number(options.cooler_c) : options.onset.id,
      "0 and a limit that does not change with temperature, for the record has no temperatures");
}

// Steps through the stretches in which the sensor stood still.
class Stuck {
 public:
  explicit Stuck(const std::vector<Stretch>& stretches) : stretches_(stretches) {}

  /// Whether the reading lies in one; to be asked in order.
  bool holds(std::size_t reading) {
    while (next_ < stretches_.size() && stretches_[next_].last < reading) ++next_;
    return next_ < stretches_.size() && reading >= stretches_[next_].first;
  }

 private:
  const std::vector<Stretch>& stretches_;
  std::size_t next_ = 0;
};

}  // namespace

double stand_s(const LoggerRecord& record) {
  return std::min(record.interval_s, kLongestStandSeconds);
}

KnownTime::KnownTime(const LoggerRecord& record, const StoreOptions& options) {
  const bool by_temperature = needs_temperature(options);
  if (by_temperature && !record.has_temperature()) refuse_without_temperature(options);
  if (by_temperature) {
    take_by_temperature(record, options);
  } else {
    take_as_read(record);
    low = Margins(rh_percent, rh_extents, options.onset.low_rh_percent[0]);
    high = Margins(rh_percent, rh_extents, upper_limits(options.onset)[0]);
  }
  weigh(stand_s(record));
}

void KnownTime::take_as_read(const LoggerRecord& record) {
  if (record.stuck.empty()) {
    look_at(record.times_s, record.rh_percent, record.temperature_c, record.rh_percent);
    joined.resize(times_s.size());
    for (std::size_t i = 1; i < times_s.size(); ++i)
      joined[i] = static_cast<double>(times_s[i] - times_s[i - 1]) <= record.gap_limit_s ? 1 : 0;
    return;
  }
  reserve(record.size());
  Stuck stuck(record.stuck);
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (!stuck.holds(i)) keep(record, i, 1);
  }
  look_at(own_times_s_, own_rh_percent_, own_temperature_c_, own_surface_rh_);
}

void KnownTime::take_by_temperature(const LoggerRecord& record, const StoreOptions& options) {
  const LimitsByTemperature limits(options);
  std::vector<double> low_limits;
  std::vector<double> high_limits;
  reserve(record.size());
  reserve_large(low_limits, record.size());
  reserve_large(high_limits, record.size());
  Stuck stuck(record.stuck);
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (stuck.holds(i)) continue;
    const auto here = limits.at(record.temperature_c[i]);
    if (!here) continue;
    keep(record, i, here->surface_over_air);
    low_limits.push_back(here->low);
    high_limits.push_back(here->high);
  }
  look_at(own_times_s_, own_rh_percent_, own_temperature_c_, own_surface_rh_);
  low = Margins(rh_percent, std::move(low_limits));
  high = Margins(rh_percent, std::move(high_limits));
}

void KnownTime::reserve(std::size_t readings) {
  for (auto* values : {&own_rh_percent_, &own_temperature_c_, &own_surface_rh_})
    reserve_large(*values, readings);
  reserve_large(own_times_s_, readings);
  joined.reserve(readings);
}

void KnownTime::keep(const LoggerRecord& record, std::size_t i, double surface_over_air) {
  const bool next_to_last =
      !joined.empty() && last_kept_ + 1 == i &&
      static_cast<double>(record.times_s[i] - record.times_s[i - 1]) <= record.gap_limit_s;
  joined.push_back(next_to_last ? 1 : 0);
  own_times_s_.push_back(record.times_s[i]);
  own_rh_percent_.push_back(record.rh_percent[i]);
  own_temperature_c_.push_back(record.temperature_c[i]);
  own_surface_rh_.push_back(record.rh_percent[i] * surface_over_air);
  last_kept_ = i;
}

void KnownTime::look_at(std::span<const std::int64_t> times, std::span<const double> rh,
                        std::span<const double> temperature, std::span<const double> surface) {
  times_s = times;
  rh_percent = rh;
  temperature_c = temperature;
  surface_rh = surface;
  rh_extents = extents_of(rh);
  surface_extents = surface.data() == rh.data() ? rh_extents : extents_of(surface);
}

// Half the interval to each joined neighbour; half the median interval on an open side; never more
// than half of kLongestStand.
void KnownTime::weigh(double open_s) {
  const std::size_t n = times_s.size();
  reserve_large(seconds, n);
  seconds.resize(n);
  blocks.reserve(blocks_in(n));
  double before = open_s;
  for (std::size_t b = 0; b < blocks_in(n); ++b) {
    Block block{0, true};
    for (std::size_t i = b * kBlock; i < block_end(b, n); ++i) {
      const bool goes_on = i + 1 < n && joined[i + 1] != 0;
      const double after =
          goes_on ? std::min(static_cast<double>(times_s[i + 1] - times_s[i]), kLongestStandSeconds)
                  : open_s;
      seconds[i] = 0.5 * (before + after);
      block.seconds += seconds[i];
      block.joined = block.joined && joined[i] != 0;
      before = after;
    }
    total_s += block.seconds;
    blocks.push_back(block);
  }
}

}  // namespace aeruca::detail
