#include "store/chances.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <vector>

#include "aeruca/not_given.hpp"
#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr double kYearSeconds = 365.25 * 86400;

double expected_share(const KnownTime& known, const Margins& margins, const SensorError& error) {
  const double reach = error.reach();
  double expected = 0;
  Margins::Buffer buffer;
  for (std::size_t b = 0; b < known.blocks.size(); ++b) {
    const Extent extent = margins.extent(b);
    if (extent.lowest >= reach) continue;
    expected += extent.highest < -reach
                    ? known.blocks[b].seconds
                    : error.expected_seconds(margins.block(b, buffer), known.seconds_in(b));
  }
  return expected / known.total_s;
}

// Smallest bias from which on a limit is exceeded for the hours of a spell, or for a share of the
// time.
struct BiasForWet {
  double low;   // above `low` for active_spell_h or dormant_share
  double high;  // above `high` for active_spell_h or active_share
};

double margin_at(const Margins& margins, std::optional<std::size_t> reading) {
  return reading ? margins[*reading] : std::numeric_limits<double>::infinity();
}

// `humid`: the humidities that are reached for dormant_share and active_share of the time. With one
// limit at all temperatures, the same readings and humidities answer for both limits.
BiasForWet bias_for_wet(const KnownTime& known, const StoreOptions& o,
                        std::array<double, 2> humid) {
  const auto reading = reading_for_spell(known, known.low, o.active_spell_h);
  const double* low = known.low.one_limit();
  const double* high = known.high.one_limit();
  if (low != nullptr && high != nullptr) {
    return {std::min(margin_at(known.low, reading), *low - humid[0]),
            std::min(margin_at(known.high, reading), *high - humid[1])};
  }
  const auto margin_of_share = [&](const Margins& margins, double share) {
    const std::array<double, 1> shares{share};
    return weighted_quantiles(margins.all(), known.seconds, shares).front();
  };
  return {std::min(margin_at(known.low, reading), margin_of_share(known.low, o.dormant_share)),
          std::min(margin_at(known.high, reading_for_spell(known, known.high, o.active_spell_h)),
                   margin_of_share(known.high, o.active_share))};
}

// At one rate of drift.
struct AtOneRate {
  Chances chances;
  double bias_for_low = 0;
};

AtOneRate at_one_rate(const KnownTime& known, const SensorError& error, const StoreOptions& o,
                      std::array<double, 2> humid) {
  const BiasForWet bias = bias_for_wet(known, o, humid);
  AtOneRate at;
  at.bias_for_low = bias.low;
  at.chances.below_all_time = error.all_below(known.low);
  at.chances.dormant = error.bias_below(bias.low);
  at.chances.share_above_low = expected_share(known, known.low, error);
  at.chances.active = at.chances.share_above_high = kNotGiven;
  if (!has_upper_end(o.onset)) return at;
  at.chances.active = 1 - error.bias_below(bias.high);
  at.chances.share_above_high = expected_share(known, known.high, error);
  return at;
}

// Rates of equal probability, percent RH a second.
std::vector<double> drift_rates(const StoreOptions& o) {
  std::vector<double> rates;
  for (int k = 0; k < kDriftRates; ++k) {
    const double probability = (k + 0.5) / kDriftRates;
    const double part = o.accuracy_meaning == AccuracyMeaning::uniform
                            ? 2 * probability - 1
                            : normal_quantile(probability) / kNormal95;
    rates.push_back(part * o.drift_rh_percent_per_year / kYearSeconds);
  }
  return rates;
}

LoggerRecord drifted(const LoggerRecord& record, std::int64_t calibrated_s, double rate) {
  LoggerRecord shifted = record;
  for (std::size_t i = 0; i < record.size(); ++i)
    shifted.rh_percent[i] += rate * static_cast<double>(record.times_s[i] - calibrated_s);
  return shifted;
}

AtOneRate at_rate(const LoggerRecord& record, double rate, const SensorError& error,
                  const StoreOptions& o) {
  const LoggerRecord shifted = drifted(record, *o.calibrated_s, rate);
  const KnownTime known(shifted, o);
  const std::array<double, 2> shares{o.dormant_share, o.active_share};
  const std::vector<double> humid = weighted_quantiles(known.rh_percent, known.seconds, {}, shares);
  return at_one_rate(known, error, o, {humid[0], humid[1]});
}

void add(Chances& sum, const Chances& one) {
  sum.below_all_time += one.below_all_time / kDriftRates;
  sum.dormant += one.dormant / kDriftRates;
  sum.active += one.active / kDriftRates;
  sum.share_above_low += one.share_above_low / kDriftRates;
  sum.share_above_high += one.share_above_high / kDriftRates;
}

// The x at which the mean of F(x + shift) over the shifts is the probability.
double mixed_quantile(const SensorError& error, const std::vector<double>& shifts,
                      double probability) {
  const auto [least, most] = std::minmax_element(shifts.begin(), shifts.end());
  double low = -error.reach() - *most;
  double high = error.reach() - *least;
  constexpr int kHalvings = 60;
  for (int i = 0; i < kHalvings; ++i) {
    const double x = 0.5 * (low + high);
    double below = 0;
    for (const double shift : shifts) below += error.bias_below(x + shift);
    (below < probability * static_cast<double>(shifts.size()) ? low : high) = x;
  }
  return high;
}

Chances with_drift(const LoggerRecord& record, const SensorError& error, const StoreOptions& o) {
  Chances mean;
  std::vector<double> biases;
  std::vector<double> by_the_end;
  const auto since = static_cast<double>(record.times_s.back() - *o.calibrated_s);
  for (const double rate : drift_rates(o)) {
    const AtOneRate at = at_rate(record, rate, error, o);
    add(mean, at.chances);
    biases.push_back(at.bias_for_low);
    by_the_end.push_back(-rate * since);
  }
  mean.sure_bias = mixed_quantile(error, by_the_end, o.dormant_probability);
  mean.too_humid_by = mixed_quantile(error, biases, o.dormant_probability);
  return mean;
}

}  // namespace

bool has_upper_end(const OnsetCurve& onset) {
  return !std::isnan(onset.high_rh_percent.front());
}

Chances chances_of(const LoggerRecord& record, const KnownTime& known, const SensorError& error,
                   const StoreOptions& options, std::array<double, 2> humid) {
  if (options.drift_rh_percent_per_year > 0) return with_drift(record, error, options);
  const AtOneRate at = at_one_rate(known, error, options, humid);
  Chances chances = at.chances;
  chances.sure_bias = error.bias_at(options.dormant_probability);
  chances.too_humid_by = chances.sure_bias - at.bias_for_low;
  return chances;
}

}  // namespace aeruca::detail
