#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/store.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "numerics/normal.hpp"
#include "store/chances.hpp"
#include "store/known_time.hpp"
#include "store/periods.hpp"
#include "store/sensor.hpp"
#include "store/store_options.hpp"
#include "store/verdict.hpp"

namespace aeruca {
namespace {

using detail::KnownTime;
using detail::Margins;
using detail::SensorError;

constexpr std::size_t kReadingsWorthATable = 10000;
constexpr SensorRange kNoRange{kNotGiven, kNotGiven, kNotGiven, kNotGiven};

void describe_period(const LoggerRecord& record, const KnownTime& known, StoreAssessment& a) {
  if (record.size() == 0) return;
  a.start_s = record.times_s.front();
  a.end_s = record.times_s.back();
  const double stand =
      0.5 * (detail::stand_s(record, 0) + detail::stand_s(record, record.size() - 1));
  a.period_hours = (static_cast<double>(a.end_s - a.start_s) + stand) / 3600;
  a.known_hours = known.total_s / 3600;
  a.coverage = a.period_hours > 0 ? a.known_hours / a.period_hours : 0;
  for (const std::size_t i : record.gap_ends()) {
    const auto step = static_cast<double>(record.times_s[i] - record.times_s[i - 1]);
    ++a.gaps;
    a.longest_gap_hours = std::max(a.longest_gap_hours, step / 3600);
  }
}

constexpr std::array<double, 3> kPercentiles{0.05, 0.50, 0.95};

Percentiles percentiles(std::span<const double> values, std::span<const double> weights) {
  const std::vector<double> found = detail::weighted_quantiles(values, weights, kPercentiles);
  return {found[0], found[1], found[2]};
}

// Temperatures may be missing here and there.
Percentiles temperature_percentiles(const KnownTime& known) {
  const auto& t = known.temperature_c;
  if (std::none_of(t.begin(), t.end(), [](double x) { return std::isnan(x); }))
    return percentiles(t, known.seconds);
  std::vector<double> values;
  std::vector<double> weights;
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (std::isnan(t[i])) continue;
    values.push_back(t[i]);
    weights.push_back(known.seconds[i]);
  }
  return percentiles(values, weights);
}

TimeAbove time_above(const KnownTime& known, const Margins& margins, double accuracy,
                     double expected_share) {
  const auto at = [&](double bias) { return detail::readings_above(known, margins, bias); };
  const detail::ReadingsAbove lower = at(-accuracy);
  const detail::ReadingsAbove as_read = at(0);
  const detail::ReadingsAbove higher = at(accuracy);
  const double total = known.total_s;
  TimeAbove above;
  above.share = {lower.seconds / total, as_read.seconds / total, higher.seconds / total,
                 expected_share};
  above.longest = as_read.longest;
  above.longest_h = {lower.longest.hours, as_read.longest.hours, higher.longest.hours, kNotGiven};
  return above;
}

// Seconds of the readings that `is(i)` holds for, in blocks that reach as high as `from`.
template <class Is>
double seconds_up_there(const KnownTime& known, std::span<const detail::Extent> extents,
                        double from, Is&& is) {
  double seconds = 0;
  for (std::size_t b = 0; b < extents.size(); ++b) {
    if (extents[b].highest < from) continue;
    for (std::size_t i = b * detail::kBlock; i < detail::block_end(b, known.size()); ++i)
      seconds += is(i) ? known.seconds[i] : 0.0;
  }
  return seconds;
}

double condensing_seconds(const KnownTime& known) {
  constexpr double kSaturated = 100;
  return seconds_up_there(known, known.surface_extents, kSaturated,
                          [&](std::size_t i) { return known.surface_rh[i] >= kSaturated; });
}

// From a reading above the limit to the first below the humidity of crystallisation; over a gap the
// brine stays.
double share_brine_may_last(const KnownTime& known, const OnsetCurve& onset) {
  if (std::isnan(onset.crystallisation_rh_percent)) return kNotGiven;
  bool brine = false;
  double seconds = 0;
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (known.low[i] < 0) {
      brine = true;
    } else if (known.surface_rh[i] < onset.crystallisation_rh_percent) {
      brine = false;
    }
    seconds += brine ? known.seconds[i] : 0.0;
  }
  return seconds / known.total_s;
}

double wetness_hours(const KnownTime& known) {
  constexpr double kWetRh = 80;
  const auto& t = known.temperature_c;
  if (std::all_of(t.begin(), t.end(), [](double x) { return std::isnan(x); })) return kNotGiven;
  return seconds_up_there(known, known.rh_extents, kWetRh,
                          [&](std::size_t i) { return t[i] > 0 && known.rh_percent[i] > kWetRh; }) /
         3600;
}

double dry_at_end_hours(const KnownTime& known) {
  std::size_t last = known.size() - 1;
  while (last > 0 && known.low[last] >= 0) {
    const std::size_t block = last / detail::kBlock;
    const std::size_t step = known.low.extent(block).lowest >= 0 ? last % detail::kBlock : 1;
    last -= std::max<std::size_t>(step, 1);
  }
  return static_cast<double>(known.times_s.back() - known.times_s[last]) / 3600;
}

// With what the checks leave of the sensor's error in place of the maker's accuracy.
StoreOptions with_checks(const StoreOptions& options, const SensorCorrection& correction) {
  StoreOptions checked = options;
  if (options.checks.empty()) return checked;
  checked.accuracy_rh_percent = detail::kNormal95 * correction.uncertainty_rh_percent;
  checked.accuracy_meaning = AccuracyMeaning::normal_95;
  return checked;
}

void assess_time_above(const LoggerRecord& record, const KnownTime& known, const StoreOptions& o,
                       std::array<double, 2> humid, StoreAssessment& a) {
  SensorError error(o.accuracy_rh_percent, o.accuracy_meaning, o.random_rh_percent);
  if (known.size() > kReadingsWorthATable) error.tabulate();
  const detail::Chances chances = detail::chances_of(record, known, error, o, humid);
  a.above_low = time_above(known, known.low, o.accuracy_rh_percent, chances.share_above_low);
  a.above_high = TimeAbove{kNoRange, {}, kNoRange};
  a.probability_below_all_time = chances.below_all_time;
  a.probability_dormant = chances.dormant;
  a.set_point_rh_percent = known.low.lowest_limit() - chances.sure_bias - a.correction_rh_percent;
  a.too_humid_by_rh_percent = chances.too_humid_by;
  a.probability_active = chances.active;
  a.probability_borderline = 1 - a.probability_dormant;
  if (!detail::has_upper_end(o.onset)) return;
  a.above_high = time_above(known, known.high, o.accuracy_rh_percent, chances.share_above_high);
  a.probability_borderline = std::max(0.0, a.probability_borderline - a.probability_active);
}

void assess_known(const LoggerRecord& record, const KnownTime& known, const StoreOptions& o,
                  StoreAssessment& a) {
  const std::array<double, 2> shares{o.dormant_share, o.active_share};
  const std::vector<double> rh =
      detail::weighted_quantiles(known.rh_percent, known.seconds, kPercentiles, shares);
  a.temperature_c = temperature_percentiles(known);
  a.rh_percent = {rh[0], rh[1], rh[2]};
  a.surface_rh_percent =
      o.cooler_c == 0 ? a.rh_percent : percentiles(known.surface_rh, known.seconds);
  assess_time_above(record, known, o, {rh[3], rh[4]}, a);
  a.share_condensing = condensing_seconds(known) / known.total_s;
  const detail::Cycles cycles = detail::count_cycles(known, o.hysteresis_rh_percent);
  a.excursions = cycles.excursions;
  a.wet_dry_cycles = cycles.completed;
  a.share_brine_may_last = share_brine_may_last(known, o.onset);
  a.time_of_wetness_hours = wetness_hours(known);
  a.dry_at_end_hours = dry_at_end_hours(known);
  detail::Periods periods = detail::periods_of(known);
  a.months = std::move(periods.months);
  a.worst_month = periods.worst_month;
  a.seasons = std::move(periods.seasons);
  a.worst_week = periods.worst_week;
}

void nothing_known(StoreAssessment& a) {
  a.temperature_c = a.rh_percent = a.surface_rh_percent = {kNotGiven, kNotGiven, kNotGiven};
  a.above_low.share = a.above_high.share = a.above_low.longest_h = a.above_high.longest_h =
      kNoRange;
  a.share_condensing = a.time_of_wetness_hours = a.dry_at_end_hours = kNotGiven;
  a.probability_below_all_time = a.probability_dormant = kNotGiven;
  a.probability_borderline = a.probability_active = kNotGiven;
  a.set_point_rh_percent = a.too_humid_by_rh_percent = kNotGiven;
}

bool is_too_few(const StoreAssessment& a) {
  return a.readings > 0 && a.readings < static_cast<std::size_t>(a.options.minimum_readings);
}

// A handful of readings is no record, whatever they show.
void refuse_few(StoreAssessment& a) {
  if (!is_too_few(a)) return;
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

// `used`: the options, with the accuracy that the checks leave.
StoreAssessment assess_corrected(const LoggerRecord& record, const StoreOptions& given,
                                 const SensorCorrection& correction, const StoreOptions& used) {
  const KnownTime known(record, used);
  StoreAssessment assessment;
  assessment.options = given;
  assessment.correction_rh_percent = correction.rh_percent;
  assessment.accuracy_used_rh_percent = used.accuracy_rh_percent;
  assessment.readings = known.size();
  assessment.left_out = record.size() - known.size();
  describe_period(record, known, assessment);
  if (known.size() == 0 || known.total_s <= 0) {
    assessment.readings = 0;
    nothing_known(assessment);
  } else {
    assess_known(record, known, used, assessment);
  }
  if (is_too_few(assessment)) assessment.too_humid_by_rh_percent = kNotGiven;
  detail::judge(record, assessment);
  refuse_few(assessment);
  return assessment;
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
  detail::check_options(options);
  if (options.checks.empty()) return assess_corrected(record, options, {}, options);
  const double limit = KnownTime(record, options).low.lowest_limit();
  const SensorCorrection correction =
      sensor_correction(options.checks, limit, options.accuracy_rh_percent);
  LoggerRecord corrected = record;
  for (double& rh : corrected.rh_percent) rh += correction.rh_percent;
  return assess_corrected(corrected, options, correction, with_checks(options, correction));
}

}  // namespace aeruca
