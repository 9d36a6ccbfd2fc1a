// Laws of the bath model that hold everywhere.

#include "aeruca/bath.hpp"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

#include "catch.hpp"

using namespace aeruca;

namespace {

const double kInfinity = std::numeric_limits<double>::infinity();
const std::array kShapes{BodyShape::slab, BodyShape::cylinder, BodyShape::sphere};

double pick(std::mt19937_64& random, double low, double high) {  // log-uniform
  return std::exp(std::uniform_real_distribution(std::log(low), std::log(high))(random));
}

std::vector<BathStep> random_baths(std::mt19937_64& random, bool equal, bool fill) {
  std::vector<BathStep> baths(2 + random() % 6);
  const double alpha = pick(random, 0.3, 300);
  for (std::size_t k = 0; k < baths.size(); ++k) {
    baths[k].alpha = equal ? alpha : alpha * pick(random, 0.5, 2);
    baths[k].tau = pick(random, 1e-3, 0.5);
    if (fill) baths[k].fill = pick(random, 1e-4, 0.3);
    if (fill && k > 0) baths[k].carry_over = 0.2 * static_cast<double>(random() % 2);
  }
  return baths;
}

double carried(const std::vector<BathStep>& baths, const BathSeries& series, std::size_t k) {
  const double share = baths[k].carry_over * baths[k - 1].alpha / baths[k].alpha;
  return baths[k].carry_over * series.ends[k - 1].in_bath + baths[k].fill * (1 - share);
}

// Carman and Haul, with the scaled error function e(z) = exp(z^2) erfc(z).
double scaled_erfc(double z) {
  return z > 20 ? (1 - 0.5 / (z * z) * (1 - 1.5 / (z * z) * (1 - 2.5 / (z * z)))) /
                      (z * std::sqrt(std::numbers::pi))
                : std::exp(z * z) * boost::math::erfc(z);
}

double short_time(BodyShape shape, double alpha, double tau) {
  if (shape == BodyShape::slab) return (1 + alpha) * (1 - scaled_erfc(std::sqrt(tau) / alpha));
  const double g1 = 0.5 * (std::sqrt(1 + 4 * alpha / 3) + 1);
  const double g2 = g1 - 1;
  const double s = 3 * std::sqrt(tau) / alpha;
  const double minus = std::exp(g2 * s * g2 * s) * boost::math::erfc(-g2 * s);
  return (1 + alpha) * (1 - g1 / (g1 + g2) * scaled_erfc(g1 * s) - g2 / (g1 + g2) * minus);
}

}  // namespace

TEST_CASE("mass is conserved through any sequence of baths") {
  std::mt19937_64 random(1);
  for (int trial = 0; trial < 100; ++trial) {
    const PorousBody body{kShapes[random() % 3], InitialLoad::uniform,
                          random() % 2 ? kInfinity : pick(random, 0.1, 100)};
    const auto baths = random_baths(random, random() % 2, true);
    const BathSeries series = bath_series(body, baths);
    double left = 1;
    for (std::size_t k = 0; k < baths.size(); ++k) {
      const double filled = k == 0 ? baths[0].fill : carried(baths, series, k);
      CHECK(std::abs(series.starts[k].in_bath - filled) < 1e-12);
      CHECK(std::abs(series.ends[k].in_bath + series.ends[k].left - filled - left) < 1e-12);
      left = series.ends[k].left;
    }
  }
}

TEST_CASE("the left fraction falls without rest in clean baths and never below equilibrium") {
  std::mt19937_64 random(2);
  for (int trial = 0; trial < 60; ++trial) {
    const auto shape = kShapes[random() % 3];
    const auto load =
        shape == BodyShape::slab && random() % 2 ? InitialLoad::at_metal : InitialLoad::uniform;
    const auto baths = random_baths(random, random() % 2, false);
    double total = 0, floor = 1;
    for (const auto& bath : baths) {
      total += bath.tau;
      floor /= 1 + bath.alpha;
    }
    std::vector<double> times;
    for (int i = 0; i <= 200; ++i) times.push_back(total * i / 200);
    double left = 1 + 1e-9;
    for (const BathPoint& point : bath_curve({shape, load}, baths, times)) {
      CHECK(point.left <= left + 1e-9);
      left = point.left;
    }
    CHECK(left > floor);
  }
}

TEST_CASE("equal baths in closed form agree with the general overlaps") {
  std::mt19937_64 random(3);
  ModeOptions general;
  general.change = ModeOptions::Change::overlaps;
  for (int trial = 0; trial < 60; ++trial) {
    const PorousBody body{kShapes[random() % 3], InitialLoad::uniform,
                          random() % 2 ? kInfinity : pick(random, 0.1, 100)};
    const auto baths = random_baths(random, true, true);
    const auto closed = bath_series(body, baths);
    const auto overlaps = bath_series(body, baths, general);
    for (std::size_t k = 0; k < baths.size(); ++k) {
      CHECK(std::abs(closed.ends[k].left - overlaps.ends[k].left) < 1e-12);
      CHECK(std::abs(closed.ends[k].in_bath - overlaps.ends[k].in_bath) < 1e-12);
    }
  }
}

TEST_CASE("baths that differ by almost nothing agree with equal ones") {
  for (const auto shape : kShapes) {
    for (const double change : {1e-13, 1e-10, 1e-7, 1e-5}) {
      std::vector<BathStep> baths(5, BathStep{3, 0.02, 0, 0});
      const double equal = bath_series({shape}, baths).ends.back().left;
      baths[1].alpha = baths[3].alpha = 3 * (1 + change);
      const double left = bath_series({shape}, baths).ends.back().left;
      CHECK(std::abs(left - equal) < 1e-10 + change);
    }
  }
}

TEST_CASE("dividing one bath into two without a change is the identity") {
  for (const auto shape : kShapes) {
    for (const double alpha : {0.2, 3.0, 50.0}) {
      const std::vector<BathStep> whole{{alpha, 0.3, 0.1, 0}};
      const std::vector<BathStep> halves{{alpha, 0.1, 0.1, 0}, {alpha, 0.2, 0, 1}};
      CHECK(std::abs(bath_series({shape}, whole).ends[0].left -
                     bath_series({shape}, halves).ends[1].left) < 1e-12);
    }
  }
}

TEST_CASE("early release follows the short-time forms") {
  // The slab form is exact until the far side is felt; the sphere form (two signs of its cubic)
  // likewise.
  for (const double alpha : {0.2, 1.0, 10.0, 100.0}) {
    for (const double tau : {1e-12, 1e-9, 1e-6, 1e-4, 1e-3, 5e-3}) {
      CAPTURE(alpha, tau);
      const double slab = short_time(BodyShape::slab, alpha, tau);
      const double ours = fraction_of_final_release(BodyShape::slab, alpha, tau);
      // The form itself cancels: (1 + alpha) times the rounding of 1.
      CHECK(std::abs(ours - slab) < 1e-10 * slab + 4e-16 * (1 + alpha));
      if (tau < 1e-6) continue;
      CHECK(std::abs(fraction_of_final_release(BodyShape::sphere, alpha, tau) -
                     short_time(BodyShape::sphere, alpha, tau)) < 2e-10 * (1 + alpha) / alpha);
    }
  }
}

TEST_CASE("the thinner slab that stands in early joins the full one without a step") {
  for (const double biot : {kInfinity, 2.0}) {
    const PorousBody body{BodyShape::slab, InitialLoad::uniform, biot};
    for (const double total : {0.03, 0.03 - 1e-13}) {
      const std::vector<BathStep> baths{{5, 0.4 * total, 0.01, 0}, {8, 0.6 * total, 0.02, 0.1}};
      const std::vector<BathStep> other{{5, 0.012, 0.01, 0}, {8, 0.018, 0.02, 0.1}};
      CHECK(std::abs(bath_series(body, baths).ends[1].left -
                     bath_series(body, other).ends[1].left) < 2e-10);
    }
  }
}

TEST_CASE("many very large baths become a perfect sink and a large Biot number perfect stirring") {
  for (const auto shape : kShapes) {
    const std::vector<BathStep> sink{{kInfinity, 0.1, 0, 0}, {kInfinity, 0.2, 0, 0}};
    const std::vector<BathStep> large{{1e9, 0.1, 0, 0}, {2e9, 0.2, 0, 0}};
    CHECK(std::abs(bath_series({shape}, sink).ends[1].left -
                   bath_series({shape}, large).ends[1].left) < 1e-8);
    const PorousBody stirred{shape, InitialLoad::uniform, 1e9};
    CHECK(std::abs(bath_series(stirred, sink).ends[1].left -
                   bath_series({shape}, sink).ends[1].left) < 1e-8);
  }
}

TEST_CASE("the stated truncation bound holds") {
  for (const auto shape : kShapes) {
    for (const double tau : {1e-4, 1e-3, 0.1}) {
      std::vector<BathStep> baths{{3, tau, 0, 0}, {5, tau, 0, 0}, {3, tau, 0, 0}, {9, 1.0, 0, 0}};
      ModeOptions fine;
      fine.accuracy = 1e-14;
      const auto exact = bath_series({shape}, baths, fine);
      for (const double accuracy : {1e-3, 1e-6, 1e-10}) {
        ModeOptions options;
        options.accuracy = accuracy;
        const auto rough = bath_series({shape}, baths, options);
        CAPTURE(to_string(shape), tau, accuracy, rough.modes);
        CHECK(rough.truncation_error <= 10 * accuracy);
        for (std::size_t k = 0; k < baths.size(); ++k) {
          CHECK(std::abs(rough.ends[k].left - exact.ends[k].left) <=
                rough.truncation_error + 1e-12);
        }
      }
    }
  }
}
