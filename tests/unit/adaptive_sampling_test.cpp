#include "numerics/adaptive_sampling.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "catch.hpp"

using namespace aeruca::detail;

namespace {

// A normal likelihood of standard deviation s about m, under a standard normal: all is known.
struct Known {
  double middle, spread;

  [[nodiscard]] double log_likelihood(double z) const {
    return -0.5 * std::pow((z - middle) / spread, 2);
  }
  [[nodiscard]] double variance() const { return 1 / (1 + 1 / (spread * spread)); }
  [[nodiscard]] double mean() const { return variance() * middle / (spread * spread); }
  [[nodiscard]] double log_integral() const {
    return 0.5 * std::log(variance()) - 0.5 * middle * middle / (1 + spread * spread);
  }
};

double mean_of(const WeighedSample& sample, std::size_t dimension, std::size_t which) {
  double sum = 0;
  for (std::size_t n = 0; n < sample.weight.size(); ++n)
    sum += sample.weight[n] * sample.points[n * dimension + which];
  return sum;
}

}  // namespace

TEST_CASE("mean and integral of a narrow likelihood are found far from where sampling begins") {
  const Known first{2.5, 0.05};
  const Known second{-1, 0.1};
  const auto likelihood = [&](std::span<const double> z) {
    return first.log_likelihood(z[0]) + second.log_likelihood(z[1]);
  };
  const WeighedSample sample = sample_adaptively(2, likelihood, {}, 3);
  CHECK(sample.effective > 100);
  CHECK(std::abs(mean_of(sample, 2, 0) - first.mean()) < 0.02);
  CHECK(std::abs(mean_of(sample, 2, 1) - second.mean()) < 0.03);
  CHECK(std::abs(sample.log_integral - first.log_integral() - second.log_integral()) < 0.15);
}

TEST_CASE("two peaks apart both keep their weight") {
  const auto likelihood = [](std::span<const double> z) {
    const double near = std::exp(-0.5 * std::pow((z[0] - 1.2) / 0.1, 2));
    const double far = std::exp(-0.5 * std::pow((z[0] + 1.2) / 0.1, 2));
    return std::log(near + far);
  };
  const WeighedSample sample = sample_adaptively(1, likelihood, {}, 4);
  double right = 0;
  for (std::size_t n = 0; n < sample.weight.size(); ++n)
    right += sample.points[n] > 0 ? sample.weight[n] : 0;
  CHECK(std::abs(right - 0.5) < 0.06);
}

TEST_CASE("the same seed gives the same points, and what is impossible has no weight") {
  const auto likelihood = [](std::span<const double> z) {
    return z[0] > 0 ? -z[0] : -std::numeric_limits<double>::infinity();
  };
  const WeighedSample a = sample_adaptively(1, likelihood, {}, 7);
  const WeighedSample b = sample_adaptively(1, likelihood, {}, 7);
  CHECK(a.points == b.points);
  CHECK(a.log_integral == b.log_integral);
  for (std::size_t n = 0; n < a.weight.size(); ++n) {
    if (a.points[n] <= 0) CHECK(a.weight[n] == 0);
  }
  const auto nowhere = [](std::span<const double>) {
    return -std::numeric_limits<double>::infinity();
  };
  CHECK(sample_adaptively(1, nowhere, {}, 7).effective == 0);
}
