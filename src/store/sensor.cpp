#include "store/sensor.hpp"

#include <algorithm>
#include <cmath>

namespace aeruca::detail {
namespace {

// 95 % of a normal distribution lies within this many standard deviations.
constexpr double kNormal95 = 1.959963984540054;
constexpr double kSqrtHalf = 0.70710678118654752;
constexpr double kInverseSqrt2Pi = 0.39894228040143268;

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z * kSqrtHalf);
}

// Integral of the normal distribution function: z Phi(z) + phi(z).
double normal_ramp(double z) {
  return z * normal_cdf(z) + kInverseSqrt2Pi * std::exp(-0.5 * z * z);
}

}  // namespace

double SensorError::bias_below(double x) const {
  if (accuracy_ == 0) return x >= 0 ? 1 : 0;
  if (meaning_ == AccuracyMeaning::normal_95) return normal_cdf(x * kNormal95 / accuracy_);
  return std::clamp((x + accuracy_) / (2 * accuracy_), 0.0, 1.0);
}

// A uniform and a normal error together: the uniform ramp smoothed over the normal distribution.
double SensorError::total_below(double x) const {
  if (random_ == 0) return bias_below(x);
  if (accuracy_ == 0) return normal_cdf(x / random_);
  if (meaning_ == AccuracyMeaning::normal_95) {
    return normal_cdf(x / std::hypot(accuracy_ / kNormal95, random_));
  }
  return random_ *
         (normal_ramp((x + accuracy_) / random_) - normal_ramp((x - accuracy_) / random_)) /
         (2 * accuracy_);
}

double SensorError::all_below_given_bias(double bias, double lowest,
                                         const std::vector<double>& counts) const {
  double log_probability = 0;
  const double width = 16 * random_ / static_cast<double>(counts.size());
  for (std::size_t i = 0; i < counts.size() && log_probability > -50; ++i) {
    if (counts[i] == 0) continue;
    const double margin = lowest + (static_cast<double>(i) + 0.5) * width;
    log_probability +=
        counts[i] * std::log(std::max(1e-300, normal_cdf((margin - bias) / random_)));
  }
  return std::exp(log_probability);
}

// Readings more than 16 standard deviations drier than the wettest change the product by less than
// 1e-15 each; the rest are counted in bins of 1/64 standard deviation. The bias is integrated by
// the midpoint rule over its range (uniform) or six standard deviations (normal).
double SensorError::all_below(const std::vector<double>& margins) const {
  const double lowest = *std::min_element(margins.begin(), margins.end());
  if (random_ == 0) return bias_below(lowest);
  std::vector<double> counts(1024, 0.0);
  const double scale = static_cast<double>(counts.size()) / (16 * random_);
  for (const double m : margins) {
    const double bin = (m - lowest) * scale;
    if (bin < static_cast<double>(counts.size())) counts[static_cast<std::size_t>(bin)] += 1;
  }
  if (accuracy_ == 0) return all_below_given_bias(0, lowest, counts);
  constexpr int kNodes = 400;
  const double reach = meaning_ == AccuracyMeaning::uniform ? accuracy_ : 6 * accuracy_ / kNormal95;
  double sum = 0;
  for (int k = 0; k < kNodes; ++k) {
    const double left = -reach + 2 * reach * k / kNodes;
    const double weight = bias_below(left + 2 * reach / kNodes) - bias_below(left);
    sum += weight * all_below_given_bias(left + reach / kNodes, lowest, counts);
  }
  return sum;
}

}  // namespace aeruca::detail
