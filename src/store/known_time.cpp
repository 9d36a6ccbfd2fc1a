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

bool is_joined(const LoggerRecord& record, std::size_t reading) {
  return !record.is_gap_before(reading);
}

}  // namespace

double stand_s(const LoggerRecord& record, std::size_t reading) {
  const JoinedFile* file = record.file_of(reading);
  return std::min(file == nullptr ? record.interval_s : file->interval_s, kLongestStandSeconds);
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
  weigh(record);
}

void KnownTime::take_as_read(const LoggerRecord& record) {
  std::vector<std::uint8_t> assessable(record.size(), 1);
  for (const Stretch& stuck : record.stuck) {
    for (std::size_t i = stuck.first; i <= stuck.last && i < record.size(); ++i) assessable[i] = 0;
  }
  take(record, assessable);
  surface_rh = rh_percent;
  surface_extents = rh_extents;
}

void KnownTime::take_by_temperature(const LoggerRecord& record, const StoreOptions& options) {
  const LimitsByTemperature limits(options);
  std::vector<double> low_limits;
  std::vector<double> high_limits;
  for (auto* values : {&own_surface_rh_, &low_limits, &high_limits})
    reserve_large(*values, record.size());
  std::vector<std::uint8_t> assessable(record.size(), 0);
  Stuck stuck(record.stuck);
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (stuck.holds(i)) continue;
    const auto here = limits.at(record.temperature_c[i]);
    if (!here) continue;
    assessable[i] = 1;
    own_surface_rh_.push_back(record.rh_percent[i] * here->surface_over_air);
    low_limits.push_back(here->low);
    high_limits.push_back(here->high);
  }
  take(record, assessable);
  surface_rh = own_surface_rh_;
  surface_extents = extents_of(surface_rh);
  low = Margins(rh_percent, std::move(low_limits));
  high = Margins(rh_percent, std::move(high_limits));
}

void KnownTime::take(const LoggerRecord& record, std::span<const std::uint8_t> assessable) {
  times_s = record.times_s;
  rh_percent = record.rh_percent;
  temperature_c = record.temperature_c;
  if (std::find(assessable.begin(), assessable.end(), 0) == assessable.end()) {
    joined.assign(times_s.size(), 1);
    if (!joined.empty()) joined[0] = 0;
    for (const std::size_t i : record.gap_ends()) joined[i] = 0;
  } else {
    take_some(record, assessable);
  }
  rh_extents = extents_of(rh_percent);
}

void KnownTime::take_some(const LoggerRecord& record, std::span<const std::uint8_t> assessable) {
  std::size_t last = record.size();
  for (std::size_t i = 0; i < record.size(); ++i) {
    if (assessable[i] == 0) continue;
    joined.push_back(last + 1 == i && is_joined(record, i) ? 1 : 0);
    own_times_s_.push_back(record.times_s[i]);
    own_rh_percent_.push_back(record.rh_percent[i]);
    own_temperature_c_.push_back(record.temperature_c[i]);
    if (!record.pieces.empty()) own_places_.push_back(i);
    last = i;
  }
  times_s = own_times_s_;
  rh_percent = own_rh_percent_;
  temperature_c = own_temperature_c_;
}

// Half the interval to each joined neighbour; half the median interval on an open side; never more
// than half of kLongestStand.
void KnownTime::weigh(const LoggerRecord& record) {
  const std::size_t n = times_s.size();
  const double of_all = n == 0 ? 0 : stand_s(record, 0);
  const auto open_s = [&](std::size_t i) {
    if (record.pieces.empty()) return of_all;
    return stand_s(record, own_places_.empty() ? i : own_places_[i]);
  };
  reserve_large(seconds, n);
  seconds.resize(n);
  blocks.reserve(blocks_in(n));
  double before = n == 0 ? 0 : open_s(0);
  for (std::size_t b = 0; b < blocks_in(n); ++b) {
    Block block{0, true};
    for (std::size_t i = b * kBlock; i < block_end(b, n); ++i) {
      const bool goes_on = i + 1 < n && joined[i + 1] != 0;
      const double after =
          goes_on ? std::min(static_cast<double>(times_s[i + 1] - times_s[i]), kLongestStandSeconds)
                  : open_s(i);
      seconds[i] = 0.5 * (before + after);
      block.seconds += seconds[i];
      block.joined = block.joined && joined[i] != 0;
      before = goes_on || i + 1 == n ? after : open_s(i + 1);
    }
    total_s += block.seconds;
    blocks.push_back(block);
  }
}

}  // namespace aeruca::detail
