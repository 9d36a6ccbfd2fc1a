// Ranges of weighted values, and what a fit counts as free.

#include <cmath>
#include <utility>
#include <vector>

#include "aeruca/bath_fit.hpp"
#include "bath/fit_posterior.hpp"
#include "catch.hpp"

using namespace aeruca;

TEST_CASE("the middle of five equal weights is the third value, and both ends are alike") {
  std::vector<std::pair<double, double>> values;
  for (int i = 1; i <= 5; ++i) values.emplace_back(i, 2.0);
  const Range range = detail::weighted_range(values);
  CHECK(range.median == 3);
  CHECK(range.low + range.high == 6);
  for (auto& [value, weight] : values) value = -value;
  const Range turned = detail::weighted_range(values);
  CHECK(turned.median == -3);
  CHECK(turned.low == -range.high);
  CHECK(turned.high == -range.low);
}

// A hundred values evenly from 0.5 to 99.5 stand for an even density from 0 to 100.
TEST_CASE("a range of many even values is that of the density they stand for") {
  std::vector<std::pair<double, double>> values;
  for (int i = 0; i < 100; ++i) values.emplace_back(i + 0.5, 1.0);
  const Range range = detail::weighted_range(values);
  CHECK(std::abs(range.low - 5) < 1e-9);
  CHECK(std::abs(range.median - 50) < 1e-9);
  CHECK(std::abs(range.high - 95) < 1e-9);
}

TEST_CASE("a fit has as many degrees of freedom as readings beyond load and rate") {
  BathLog log;
  for (int k = 0; k < 6; ++k) {
    BathRecord bath;
    bath.start_day = 7.0 * k;
    bath.end_day = bath.start_day + 7;
    bath.volume_l = 2;
    bath.kind = k == 2 ? ReadingKind::not_measured : ReadingKind::measured;
    bath.chloride_mg_per_l = 40 * std::pow(0.7, k);
    bath.error_mg_per_l = 5;
    bath.blank_mg_per_l = 0;
    log.baths.push_back(bath);
  }
  BathFitOptions options;
  options.alphas = {30};
  options.grid = 24;
  const BathFit fit = fit_bath_log(log, options);
  REQUIRE(fit.status == Status::converged);
  CHECK(fit.degrees_of_freedom == 3);
}
