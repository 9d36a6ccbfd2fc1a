#include "aeruca/two_loggers.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "store/sensor.hpp"

namespace aeruca {
namespace {

using detail::say;
using detail::SensorError;

constexpr std::size_t kFewestCommon = 24;
constexpr int kBiases = 4000;

struct Differences {
  std::size_t readings = 0;
  double mean_rh = 0;
  double spread_rh = 0;
  double mean_c = kNotGiven;
};

// The second record at the times of the first, where it has readings on both sides of them that no
// gap parts.
template <class Take>
void each_common(const LoggerRecord& first, const LoggerRecord& second, Take take) {
  std::size_t right = 0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    while (right < second.size() && second.times_s[right] < first.times_s[i]) ++right;
    if (right == second.size()) return;
    if (second.times_s[right] == first.times_s[i]) {
      take(i, right, right, 0.0);
      continue;
    }
    if (right == 0) continue;
    if (second.is_gap_before(right)) continue;
    const auto step = static_cast<double>(second.times_s[right] - second.times_s[right - 1]);
    take(i, right - 1, right,
         static_cast<double>(first.times_s[i] - second.times_s[right - 1]) / step);
  }
}

Differences differences_of(const LoggerRecord& first, const LoggerRecord& second) {
  Differences d;
  double sum = 0;
  double squares = 0;
  double sum_c = 0;
  std::size_t warm = 0;
  each_common(first, second, [&](std::size_t i, std::size_t left, std::size_t right, double part) {
    const auto between = [&](const std::vector<double>& y) {
      return y[left] + part * (y[right] - y[left]);
    };
    const double rh = first.rh_percent[i] - between(second.rh_percent);
    ++d.readings;
    sum += rh;
    squares += rh * rh;
    const double c = first.temperature_c[i] - between(second.temperature_c);
    if (std::isnan(c)) return;
    ++warm;
    sum_c += c;
  });
  if (d.readings == 0) return d;
  const auto n = static_cast<double>(d.readings);
  d.mean_rh = sum / n;
  d.spread_rh = std::sqrt(std::max(0.0, squares / n - d.mean_rh * d.mean_rh));
  if (warm > 0) d.mean_c = sum_c / static_cast<double>(warm);
  return d;
}

// What is known of one sensor's bias, alone.
struct Sensor {
  double accuracy;
  AccuracyMeaning meaning;

  explicit Sensor(const StoreAssessment& a)
      : accuracy(a.accuracy_used_rh_percent),
        meaning(a.options.checks.empty() ? a.options.accuracy_meaning
                                         : AccuracyMeaning::normal_95) {}

  [[nodiscard]] SensorError with(double random) const { return {accuracy, meaning, random}; }
};

// Biases of equal probability.
template <class Visit>
void each_bias(const Sensor& sensor, Visit visit) {
  const SensorError error = sensor.with(0);
  for (int k = 0; k < kBiases; ++k) {
    const double probability = (k + 0.5) / kBiases;
    visit(probability >= 0.5 ? error.bias_at(probability) : -error.bias_at(1 - probability));
  }
}

double probability_of_difference(const Sensor& first, const Sensor& second, double place,
                                 double difference) {
  const SensorError other = second.with(place);
  const double far = std::abs(difference);
  double within = 0;
  each_bias(first, [&](double bias) {
    within += other.total_below(far + bias) - other.total_below(bias - far);
  });
  return std::clamp(1 - within / kBiases, 0.0, 1.0);
}

// Probability that the bias of `own` is at most `limit`, given the other's reading (eq 1).
double below_given_other(const Sensor& own, const Sensor& other, double place, double difference,
                         double limit) {
  const SensorError error = other.with(place);
  double below = 0;
  double all = 0;
  each_bias(own, [&](double bias) {
    const double weight = error.total_density(difference + bias);
    all += weight;
    below += bias <= limit ? weight : 0;
  });
  return below / all;
}

// The bias from which on the record is no longer dormant (eq 5 of store.hpp).
double bias_for_low(const StoreAssessment& a, const Sensor& sensor) {
  return sensor.with(0).bias_at(a.options.dormant_probability) - a.too_humid_by_rh_percent;
}

bool same_limit(const OnsetCurve& a, const OnsetCurve& b) {
  return a.id == b.id && a.temperature_c == b.temperature_c && a.low_rh_percent == b.low_rh_percent;
}

void check(const StoreOptions& first, const StoreOptions& second, double place) {
  if (!same_limit(first.onset, second.onset))
    throw InputError("onset", second.onset.id, "the limit of the first record, " + first.onset.id);
  if (!(place >= 0.1 && place <= 10)) throw InputError("place_rh_percent", place, "0.1 to 10 % RH");
  for (const StoreOptions* o : {&first, &second}) {
    if (o->drift_rh_percent_per_year > 0)
      throw InputError("drift_rh_percent_per_year", o->drift_rh_percent_per_year,
                       "0 where two loggers are compared");
  }
}

Agreement agreement_of(double probability) {
  if (probability < kDisagreement) return Agreement::disagree;
  return probability < 10 * kDisagreement ? Agreement::doubtful : Agreement::agree;
}

std::string said_of(const TwoLoggers& two) {
  using detail::probability_text;
  const std::string difference = detail::format_number(std::abs(two.difference_rh_percent), 2);
  const std::string chance = probability_text(two.probability_of_difference);
  const std::string first = probability_text(two.first.probability_dormant);
  const std::string second = probability_text(two.second.probability_dormant);
  if (two.agreement == Agreement::disagree) {
    return say(
        "store.two.disagree",
        {{"difference", difference}, {"chance", chance}, {"first", first}, {"second", second}});
  }
  return say(two.agreement == Agreement::agree ? "store.two.agree" : "store.two.doubtful",
             {{"difference", difference},
              {"chance", chance},
              {"first", first},
              {"second", second},
              {"together", probability_text(two.probability_dormant_together)}});
}

void conclude(TwoLoggers& two, double place) {
  const Sensor a(two.first);
  const Sensor b(two.second);
  const double d = two.difference_rh_percent;
  two.probability_of_difference = probability_of_difference(a, b, place, d);
  two.agreement = agreement_of(two.probability_of_difference);
  two.probability_dormant_together = kNotGiven;
  const bool judged =
      !std::isnan(two.first.probability_dormant) && !std::isnan(two.second.probability_dormant);
  if (two.agreement != Agreement::disagree && judged) {
    two.probability_dormant_together =
        std::min(below_given_other(a, b, place, d, bias_for_low(two.first, a)),
                 below_given_other(b, a, place, -d, bias_for_low(two.second, b)));
  }
  two.said = said_of(two);
}

}  // namespace

std::string_view to_string(Agreement agreement) {
  switch (agreement) {
    case Agreement::agree:
      return "agree";
    case Agreement::doubtful:
      return "doubtful";
    case Agreement::disagree:
      return "disagree";
  }
  return "disagree";
}

TwoLoggers compare_loggers(const LoggerRecord& first, const StoreOptions& first_options,
                           const LoggerRecord& second, const StoreOptions& second_options,
                           double place_rh_percent) {
  check(first_options, second_options, place_rh_percent);
  TwoLoggers two;
  two.first = assess_store(first, first_options);
  two.second = assess_store(second, second_options);
  const Differences d = differences_of(first, second);
  if (d.readings < kFewestCommon) {
    throw InputError("second", std::to_string(d.readings) + " readings at times of the first",
                     "a record that shares at least 24");
  }
  two.common_readings = d.readings;
  two.difference_rh_percent =
      d.mean_rh + two.first.correction_rh_percent - two.second.correction_rh_percent;
  two.spread_rh_percent = d.spread_rh;
  two.difference_c = d.mean_c;
  conclude(two, place_rh_percent);
  return two;
}

}  // namespace aeruca
