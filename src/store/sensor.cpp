#include "store/sensor.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <limits>

#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

// The normal distribution function is 0 or 1 to rounding this many standard deviations away.
constexpr double kNormalReach = 8.5;

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

double SensorError::bias_at(double probability) const {
  if (accuracy_ == 0) return 0;
  if (meaning_ == AccuracyMeaning::uniform) return (2 * probability - 1) * accuracy_;
  if (probability >= 1) return std::numeric_limits<double>::infinity();
  return normal_quantile(probability) * accuracy_ / kNormal95;
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

double SensorError::reach() const {
  const bool normal = meaning_ == AccuracyMeaning::normal_95;
  return (normal ? kNormalReach / kNormal95 : 1.0) * accuracy_ + kNormalReach * random_;
}

double SensorError::expected_seconds(std::span<const double> margins,
                                     std::span<const double> seconds) const {
  if (is_ramp()) return ramp_seconds(margins, seconds);
  double expected = 0;
  for (std::size_t i = 0; i < margins.size(); ++i) {
    const double m = margins[i];
    expected += seconds[i] * (1 - (pieces_.empty() ? total_below(m) : tabulated_below(m)));
  }
  return expected;
}

// Four sums, so that none waits for the one before.
double SensorError::ramp_seconds(std::span<const double> margins,
                                 std::span<const double> seconds) const {
  const double scale = 1 / (2 * accuracy_);
  const auto above = [&](std::size_t i) {
    return seconds[i] * (1 - std::clamp((margins[i] + accuracy_) * scale, 0.0, 1.0));
  };
  std::array<double, 4> sums{};
  std::size_t i = 0;
  for (; i + 4 <= margins.size(); i += 4) {
    for (std::size_t k = 0; k < 4; ++k) sums[k] += above(i + k);
  }
  for (; i < margins.size(); ++i) sums[0] += above(i);
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

// Polynomials of degree 5 through F, its density and the slope of that at both ends of steps of
// 1/64 of a standard deviation: off by at most h^6 / 46080 of the sixth derivative, below 1e-15.
void SensorError::tabulate() {
  constexpr double kStepsPerDeviation = 64;
  constexpr double kMostPieces = 1 << 15;
  const bool normal = meaning_ == AccuracyMeaning::normal_95;
  const double deviation = normal ? std::hypot(accuracy_ / kNormal95, random_) : random_;
  step_ = deviation / kStepsPerDeviation;
  const double pieces = std::ceil(2 * reach() / step_);
  if (is_ramp() || !(pieces <= kMostPieces)) return;
  for (std::size_t k = 0; k < static_cast<std::size_t>(pieces); ++k)
    pieces_.push_back(piece_from(step_ * static_cast<double>(k) - reach()));
}

SensorError::Piece SensorError::piece_from(double x) const {
  const double h = step_;
  const double value = total_below(x);
  const double slope = h * total_density(x);
  const double bend = h * h * total_density_slope(x);
  // What is missing at the end of the interval from the parabola of its start.
  const double d_value = total_below(x + h) - (value + slope + bend / 2);
  const double d_slope = h * total_density(x + h) - (slope + bend);
  const double d_bend = h * h * total_density_slope(x + h) - bend;
  return {value,
          slope,
          bend / 2,
          10 * d_value - 4 * d_slope + d_bend / 2,
          -15 * d_value + 7 * d_slope - d_bend,
          6 * d_value - 3 * d_slope + d_bend / 2};
}

double SensorError::tabulated_below(double x) const {
  const double place = (x + reach()) / step_;
  if (!(place >= 0)) return std::isnan(x) ? x : 0;
  if (place >= static_cast<double>(pieces_.size())) return 1;
  const auto at = static_cast<std::size_t>(place);
  const double u = place - static_cast<double>(at);
  const Piece& c = pieces_[at];
  return c[0] + u * (c[1] + u * (c[2] + u * (c[3] + u * (c[4] + u * c[5]))));
}

double SensorError::total_density(double x) const {
  if (meaning_ == AccuracyMeaning::normal_95 || accuracy_ == 0) {
    const double deviation = std::hypot(accuracy_ / kNormal95, random_);
    return normal_density(x / deviation) / deviation;
  }
  return (normal_below((x + accuracy_) / random_) - normal_below((x - accuracy_) / random_)) /
         (2 * accuracy_);
}

double SensorError::total_density_slope(double x) const {
  if (meaning_ == AccuracyMeaning::normal_95 || accuracy_ == 0) {
    const double deviation = std::hypot(accuracy_ / kNormal95, random_);
    return -x / (deviation * deviation) * total_density(x);
  }
  return (normal_density((x + accuracy_) / random_) - normal_density((x - accuracy_) / random_)) /
         (2 * accuracy_ * random_);
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
double SensorError::all_below(const Margins& margins) const {
  const std::size_t blocks = blocks_in(margins.size());
  double lowest = std::numeric_limits<double>::infinity();
  for (std::size_t b = 0; b < blocks; ++b) lowest = std::min(lowest, margins.extent(b).lowest);
  if (random_ == 0) return bias_below(lowest);
  std::vector<double> counts(1024, 0.0);
  const double scale = static_cast<double>(counts.size()) / (16 * random_);
  Margins::Buffer buffer;
  for (std::size_t b = 0; b < blocks; ++b) {
    if ((margins.extent(b).lowest - lowest) * scale >= static_cast<double>(counts.size())) continue;
    for (const double m : margins.block(b, buffer)) {
      const double bin = (m - lowest) * scale;
      if (bin < static_cast<double>(counts.size())) counts[static_cast<std::size_t>(bin)] += 1;
    }
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
