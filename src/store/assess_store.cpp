#include <algorithm>
#include <array>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/store.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "store/known_time.hpp"
#include "store/sensor.hpp"
#include "store/verdict.hpp"

namespace aeruca {
namespace {

using detail::KnownTime;
using detail::SensorError;

constexpr SensorRange kNoRange{kNotGiven, kNotGiven, kNotGiven, kNotGiven};

void want(bool fine, const char* name, double value, const char* accepted) {
  if (!fine) throw InputError(name, value, accepted);
}

bool has_upper_end(const OnsetCurve& onset) {
  return !std::isnan(onset.high_rh_percent.front());
}

void check_onset(const OnsetCurve& onset) {
  const std::size_t n = onset.temperature_c.size();
  if (n == 0 || onset.low_rh_percent.size() != n || onset.high_rh_percent.size() != n) {
    throw InputError("onset", onset.id.empty() ? "empty" : onset.id,
                     "one low and one high limit for each temperature, at least one");
  }
  for (std::size_t i = 0; i < n; ++i) {
    const double low = onset.low_rh_percent[i];
    const double high = onset.high_rh_percent[i];
    want(low >= 0 && low <= 100, "onset.low_rh_percent", low, "0 to 100 % RH");
    const bool open = std::isnan(high) && std::isnan(onset.high_rh_percent[0]);  // no upper end
    want(open || (high >= low && high <= 100), "onset.high_rh_percent", high,
         "the low limit to 100 % RH");
    if (i > 0 && !(onset.temperature_c[i] > onset.temperature_c[i - 1])) {
      throw InputError("onset.temperature_c", onset.temperature_c[i], "temperatures that increase");
    }
  }
}

void check_options(const StoreOptions& o) {
  check_onset(o.onset);
  const auto share = [](double x) { return x >= 0 && x <= 1; };
  want(o.accuracy_rh_percent >= 0 && o.accuracy_rh_percent <= 30, "accuracy_rh_percent",
       o.accuracy_rh_percent, "0 to 30 % RH");
  want(o.random_rh_percent >= 0 && o.random_rh_percent <= 10, "random_rh_percent",
       o.random_rh_percent, "0 to 10 % RH");
  want(std::abs(o.cooler_c) <= 20, "cooler_c", o.cooler_c, "-20 to 20 degrees C");
  want(o.hysteresis_rh_percent >= 0 && o.hysteresis_rh_percent <= 20, "hysteresis_rh_percent",
       o.hysteresis_rh_percent, "0 to 20 % RH");
  want(o.active_spell_h > 0, "active_spell_h", o.active_spell_h, "more than 0 h");
  want(share(o.active_share) && o.active_share > 0, "active_share", o.active_share,
       "more than 0 to 1");
  want(share(o.dormant_share) && o.dormant_share > 0 && o.dormant_share <= o.active_share,
       "dormant_share", o.dormant_share, "more than 0 to active_share");
  want(o.dormant_probability > 0.5 && o.dormant_probability <= 1, "dormant_probability",
       o.dormant_probability, "more than 0.5 to 1");
  want(share(o.minimum_coverage), "minimum_coverage", o.minimum_coverage, "0 to 1");
  want(o.minimum_days >= 0, "minimum_days", o.minimum_days, "0 or more");
  want(o.minimum_readings >= 0, "minimum_readings", o.minimum_readings, "0 or more");
}

void describe_period(const LoggerRecord& record, const KnownTime& known, StoreAssessment& a) {
  if (record.size() == 0) return;
  a.start_s = record.times_s.front();
  a.end_s = record.times_s.back();
  a.period_hours = (static_cast<double>(a.end_s - a.start_s) + detail::stand_s(record)) / 3600;
  a.known_hours = known.total_s / 3600;
  a.coverage = a.period_hours > 0 ? a.known_hours / a.period_hours : 0;
  for (std::size_t i = 1; i < record.size(); ++i) {
    const auto step = static_cast<double>(record.times_s[i] - record.times_s[i - 1]);
    if (step <= record.gap_limit_s) continue;
    ++a.gaps;
    a.longest_gap_hours = std::max(a.longest_gap_hours, step / 3600);
  }
}

Percentiles percentiles(std::span<const double> values, std::span<const double> weights) {
  constexpr std::array<double, 3> kShares{0.05, 0.50, 0.95};
  const std::vector<double> quantiles = detail::weighted_quantiles(values, weights, kShares);
  return {quantiles[0], quantiles[1], quantiles[2]};
}

// Temperatures may be missing here and there.
Percentiles temperature_percentiles(const KnownTime& known) {
  const auto& t = known.temperature_c;
  if (std::none_of(t.begin(), t.end(), [](double x) { return std::isnan(x); }))
    return percentiles(t, known.seconds);
  std::vector<double> values;
  std::vector<double> weights;
  values.reserve(known.size());
  weights.reserve(known.size());
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (std::isnan(known.temperature_c[i])) continue;
    values.push_back(known.temperature_c[i]);
    weights.push_back(known.seconds[i]);
  }
  return percentiles(values, weights);
}

TimeAbove time_above(const KnownTime& known, const std::vector<double>& margins,
                     const SensorError& error, double accuracy) {
  TimeAbove above;
  double expected = 0;
  for (std::size_t i = 0; i < margins.size(); ++i) {
    expected += known.seconds[i] * (1 - error.total_below(margins[i]));
  }
  const auto share = [&](double bias) { return detail::share_above(known, margins, bias); };
  const auto hours = [&](double bias) { return detail::longest_spell(known, margins, bias).hours; };
  above.share = {share(-accuracy), share(0), share(accuracy), expected / known.total_s};
  above.longest = detail::longest_spell(known, margins, 0);
  above.longest_h = {hours(-accuracy), above.longest.hours, hours(accuracy), kNotGiven};
  return above;
}

// Smallest bias from which on a spell of `hours` or a share of the time lies above the limit.
double bias_for_wet(const KnownTime& known, const std::vector<double>& margins, double hours,
                    double share) {
  const std::array<double, 1> shares{share};
  return std::min(detail::bias_for_spell(known, margins, hours),
                  detail::weighted_quantiles(margins, known.seconds, shares).front());
}

double wetness_hours(const KnownTime& known) {
  double seconds = 0;
  bool any = false;
  for (std::size_t i = 0; i < known.size(); ++i) {
    any = any || !std::isnan(known.temperature_c[i]);
    if (known.temperature_c[i] > 0 && known.rh_percent[i] > 80) seconds += known.seconds[i];
  }
  return any ? seconds / 3600 : kNotGiven;
}

double dry_at_end_hours(const KnownTime& known) {
  std::size_t last = known.size() - 1;
  while (last > 0 && known.margin_low[last] >= 0) --last;
  return static_cast<double>(known.times_s.back() - known.times_s[last]) / 3600;
}

void assess_known(const KnownTime& known, StoreAssessment& a) {
  const StoreOptions& o = a.options;
  const SensorError error(o.accuracy_rh_percent, o.accuracy_meaning, o.random_rh_percent);
  a.temperature_c = temperature_percentiles(known);
  a.rh_percent = percentiles(known.rh_percent, known.seconds);
  a.surface_rh_percent =
      o.cooler_c == 0 ? a.rh_percent : percentiles(known.surface_rh, known.seconds);
  a.above_low = time_above(known, known.margin_low, error, o.accuracy_rh_percent);
  a.above_high = has_upper_end(o.onset)
                     ? time_above(known, known.margin_high, error, o.accuracy_rh_percent)
                     : TimeAbove{kNoRange, {}, kNoRange};
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (known.surface_rh[i] >= 100) a.share_condensing += known.seconds[i] / known.total_s;
  }
  const detail::Cycles cycles = detail::count_cycles(known, o.hysteresis_rh_percent);
  a.excursions = cycles.excursions;
  a.wet_dry_cycles = cycles.completed;
  a.time_of_wetness_hours = wetness_hours(known);
  a.dry_at_end_hours = dry_at_end_hours(known);
  a.months = detail::summarise_months(known);
  a.worst_month = detail::worst_month(a.months);
  a.probability_below_all_time = error.all_below(known.margin_low);
  a.probability_dormant =
      error.bias_below(bias_for_wet(known, known.margin_low, o.active_spell_h, o.dormant_share));
  a.probability_active = kNotGiven;
  a.probability_borderline = 1 - a.probability_dormant;
  if (!has_upper_end(o.onset)) return;
  a.probability_active = 1 - error.bias_below(bias_for_wet(known, known.margin_high,
                                                           o.active_spell_h, o.active_share));
  a.probability_borderline = std::max(0.0, a.probability_borderline - a.probability_active);
}

void nothing_known(StoreAssessment& a) {
  a.temperature_c = a.rh_percent = a.surface_rh_percent = {kNotGiven, kNotGiven, kNotGiven};
  a.above_low.share = a.above_high.share = a.above_low.longest_h = a.above_high.longest_h =
      kNoRange;
  a.share_condensing = a.time_of_wetness_hours = a.dry_at_end_hours = kNotGiven;
  a.probability_below_all_time = a.probability_dormant = kNotGiven;
  a.probability_borderline = a.probability_active = kNotGiven;
}

// A handful of readings is no record, whatever they show.
void refuse_few(StoreAssessment& a) {
  if (a.readings == 0 || a.readings >= static_cast<std::size_t>(a.options.minimum_readings)) return;
  a.probability_below_all_time = a.probability_dormant = kNotGiven;
  a.probability_borderline = a.probability_active = kNotGiven;
  if (a.verdict == Verdict::not_known) return;
  a.verdict = Verdict::not_known;
  const std::string least = std::to_string(a.options.minimum_readings);
  a.reason = a.readings == 1
                 ? detail::say("store.too_little.one_reading", {{"least", least}})
                 : detail::say("store.too_little.readings",
                               {{"readings", std::to_string(a.readings)}, {"least", least}});
}

}  // namespace

std::string_view to_string(Verdict verdict) {
  switch (verdict) {
    case Verdict::dormant:
      return "dormant";
    case Verdict::borderline:
      return "borderline";
    case Verdict::active:
      return "active";
    case Verdict::not_known:
      return "not known";
  }
  return "not known";
}

StoreAssessment assess_store(const LoggerRecord& record, const StoreOptions& options) {
  check_options(options);
  const KnownTime known = detail::known_time(record, options);
  StoreAssessment assessment;
  assessment.options = options;
  assessment.readings = known.size();
  assessment.left_out = record.size() - known.size();
  describe_period(record, known, assessment);
  if (known.size() == 0 || known.total_s <= 0) {
    assessment.readings = 0;
    nothing_known(assessment);
  } else {
    assess_known(known, assessment);
  }
  detail::judge(record, assessment);
  refuse_few(assessment);
  return assessment;
}

}  // namespace aeruca
