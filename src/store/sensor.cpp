#include "store/sensor.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>

#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

// Integral of the normal distribution function: z Phi(z) + phi(z).
double normal_ramp(double z) {
  return z * normal_below(z) + normal_density(z);
}

}  // namespace

double SensorError::bias_below(double x) const {
  if (accuracy_ == 0) return x >= 0 ? 1 : 0;
  if (meaning_ == AccuracyMeaning::normal_95) return normal_below(x * kNormal95 / accuracy_);
  return std::clamp((x + accuracy_) / (2 * accuracy_), 0.0, 1.0);
}

// A uniform and a normal error together: the uniform ramp smoothed over the normal distribution.
double SensorError::total_below(double x) const {
  if (random_ == 0) return bias_below(x);
  if (accuracy_ == 0) return normal_below(x / random_);
  if (meaning_ == AccuracyMeaning::normal_95) {
    return normal_below(x / std::hypot(accuracy_ / kNormal95, random_));
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
    log_probability += counts[i] * log_normal_below((margin - bias) / random_);
  }
  return std::exp(log_probability);
}

double SensorError::bias_density(double x) const {
  if (meaning_ == AccuracyMeaning::uniform) return 1 / (2 * accuracy_);
  const double deviation = accuracy_ / kNormal95;
  return normal_density(x / deviation) / deviation;
}

// Readings more than 16 standard deviations drier than the wettest change the product by less than
// 1e-15 each; the rest are counted in bins of 1/64 standard deviation. The bias is integrated over
// its range (uniform) or six standard deviations (normal), apart on both sides of where the wettest
// reading meets its limit: there the product falls from 1 to 0.
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
  const auto integrand = [&](double bias) {
    return bias_density(bias) * all_below_given_bias(bias, lowest, counts);
  };
  const auto integral = [&](double low, double high) {
    constexpr unsigned kHalvings = 12;
    constexpr double kTolerance = 1e-6;
    if (!(low < high)) return 0.0;
    return boost::math::quadrature::gauss_kronrod<double, 15>::integrate(integrand, low, high,
                                                                         kHalvings, kTolerance);
  };
  const double reach = meaning_ == AccuracyMeaning::uniform ? accuracy_ : 6 * accuracy_ / kNormal95;
  const double middle = std::clamp(lowest, -reach, reach);
  return integral(-reach, middle) + integral(middle, reach);
}

}  // namespace aeruca::detail
