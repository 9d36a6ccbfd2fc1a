#include "aeruca/bath_bodies.hpp"

#include <cmath>
#include <complex>
#include <numbers>
#include <random>

#include "bath/reserve.hpp"
#include "bath/stores.hpp"
#include "catch.hpp"
#include "numerics/contour.hpp"

using namespace aeruca;

namespace {

const double kInfinity = std::numeric_limits<double>::infinity();

std::vector<BathStep> random_baths(std::mt19937_64& random, bool filled) {
  std::uniform_real_distribution<double> even(0, 1);
  std::vector<BathStep> baths;
  const int count = 1 + static_cast<int>(8 * even(random));
  for (int k = 0; k < count; ++k) {
    const double alpha = std::exp(std::log(0.3) + std::log(300.0) * even(random));
    const double tau = std::exp(std::log(1e-5) + std::log(1e5) * even(random));
    double carry = k > 0 && even(random) < 0.3 ? 0.3 * even(random) : 0;
    if (carry > 0) carry = std::min(carry, 0.9 * alpha / baths.back().alpha);
    baths.push_back({alpha, tau, filled ? 0.02 * even(random) : 0, carry});
  }
  return baths;
}

double largest_difference(const BathSeries& a, const BathSeries& b) {
  double most = 0;
  for (std::size_t k = 0; k < a.ends.size(); ++k) {
    most = std::max(most, std::abs(a.ends[k].left - b.ends[k].left));
    most = std::max(most, std::abs(a.ends[k].in_bath - b.ends[k].in_bath));
    most = std::max(most, std::abs(a.starts[k].in_bath - b.starts[k].in_bath));
  }
  return most;
}

}  // namespace

TEST_CASE("the contour is the exponential from 0 to far beyond") {
  for (const auto& [points, error] : {std::pair{5, 4e-6}, {6, 3e-7}, {9, 1e-10}}) {
    const auto contour = detail::exponential_contour(static_cast<std::size_t>(points));
    for (const double x : {0.0, 1e-6, 0.01, 0.5, 1.0, 3.0, 10.0, 100.0, 1e6, 1e12}) {
      std::complex<double> sum = 0;
      for (const auto& point : contour) sum += point.weight / (point.node + x);
      CHECK(std::abs(sum.real() - std::exp(-x)) < error);
    }
  }
}

TEST_CASE("one store is the body of the mode series") {
  std::mt19937_64 random(5);
  for (const BodyShape shape : {BodyShape::slab, BodyShape::cylinder, BodyShape::sphere}) {
    for (const double biot : {kInfinity, 40.0, 2.0}) {
      double worst = 0;
      for (int i = 0; i < 40; ++i) {
        const auto baths = random_baths(random, i % 2 == 1);
        ModeOptions options;
        options.accuracy = 1e-9;
        const auto modes = bath_series({shape, InitialLoad::uniform, biot}, baths, options);
        const std::vector<ChlorideStore> one{{shape, InitialLoad::uniform, 1, 1, 1, biot}};
        worst = std::max(worst, largest_difference(stores_series(one, baths), modes));
      }
      CAPTURE(to_string(shape), biot);
      CHECK(worst < 1e-8);
    }
  }
}

TEST_CASE("a load at the metal is that of the mode series") {
  std::mt19937_64 random(6);
  double worst = 0;
  for (int i = 0; i < 60; ++i) {
    const auto baths = random_baths(random, i % 2 == 1);
    const auto modes = bath_series({BodyShape::slab, InitialLoad::at_metal, kInfinity}, baths);
    const std::vector<ChlorideStore> one{
        {BodyShape::slab, InitialLoad::at_metal, 1, 1, 1, kInfinity}};
    worst = std::max(worst, largest_difference(stores_series(one, baths), modes));
  }
  CHECK(worst < 1e-8);
}

TEST_CASE("a body cut in two stores of equal rate is the same body") {
  std::mt19937_64 random(7);
  for (int i = 0; i < 10; ++i) {
    const auto baths = random_baths(random, true);
    const std::vector<ChlorideStore> one{{}};
    std::vector<ChlorideStore> two{{}, {}};
    two[0].load_share = two[0].capacity_share = 0.3;
    two[1].load_share = two[1].capacity_share = 0.7;
    CHECK(largest_difference(stores_series(one, baths), stores_series(two, baths)) < 1e-12);
  }
}

TEST_CASE("a sink takes from each store as if it were alone") {
  std::vector<ChlorideStore> two{{}, {}};
  two[0].load_share = 0.6;
  two[0].capacity_share = 0.2;
  two[1].load_share = 0.4;
  two[1].capacity_share = 0.8;
  two[1].rate = 0.05;
  const std::vector<BathStep> baths{{kInfinity, 0.3, 0, 0}};
  const double quick = fraction_of_final_release(BodyShape::slab, kInfinity, 0.3);
  const double slow = fraction_of_final_release(BodyShape::slab, kInfinity, 0.015);
  const auto series = stores_series(two, baths);
  CHECK(std::abs(series.ends[0].extracted - (0.6 * quick + 0.4 * slow)) < 1e-7);
}

TEST_CASE("the front follows the exact moving boundary and then the square-root law") {
  for (const auto& [solid, low] :
       {std::pair{1.0, 0.049}, {4.0, 0.018}, {9.0, 0.009}, {49.0, 0.002}}) {
    const double k = detail::front_constant(solid, 1);
    CHECK(std::abs(std::sqrt(std::numbers::pi) * k * std::exp(k * k) * std::erf(k) * solid - 1) <
          1e-10);
    const double tau = 0.2 / (4 * k * k);  // front at sqrt(0.2)
    const std::vector<BathStep> baths{{kInfinity, tau, 0, 0}};
    const auto ends = reserve_series({solid}, baths);
    CAPTURE(solid);
    CHECK(std::abs(ends[0].front - std::sqrt(0.2)) < 1e-4);
    // Released: 2 sqrt(tau/pi) / erf(k), in solubility x length.
    const double exact = 2 * std::sqrt(tau / std::numbers::pi) / std::erf(k) / (1 + solid);
    CHECK(std::abs(ends[0].in_bath - exact) < 1e-4);
    // 4.9 % at solid + dissolved twice the dissolved, 1.8 % at 5, 0.9 % at 10, 0.2 % at 50.
    const double straight = std::sqrt((2 * (1 + solid) - 1) * tau) / (1 + solid);
    CHECK(std::abs(straight / exact - 1 + low) < 6e-4);
  }
}
