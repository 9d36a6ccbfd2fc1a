#include "aeruca/bath_plan.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <string>

#include "aeruca/bath_forecast.hpp"
#include "base/text.hpp"
#include "catch.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

const double kNan = std::numeric_limits<double>::quiet_NaN();
const double kInfinity = std::numeric_limits<double>::infinity();

std::string refusal(const PorousBody& body, const std::vector<BathStep>& baths,
                    const ModeOptions& options = {}) {
  try {
    (void)bath_series(body, baths, options);
  } catch (const InputError& problem) {
    return problem.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("a bath outside its range is refused with its number in the sequence") {
  CHECK(refusal({}, {{0, 1, 0, 0}}) ==
        "alpha of bath 1 = 0: accepted is above 0, infinity for a perfect sink");
  CHECK(refusal({}, {{1, 1, 0, 0}, {1, -2, 0, 0}}) == "tau of bath 2 = -2: accepted is 0 or more");
  CHECK(refusal({}, {{1, kNan, 0, 0}}) == "tau of bath 1 = not a number: accepted is 0 or more");
  CHECK(refusal({}, {{1, 1, -0.1, 0}}) == "fill of bath 1 = -0.1: accepted is 0 or more");
  CHECK(refusal({}, {{kInfinity, 1, 0.1, 0}}) ==
        "fill of bath 1 = 0.1: accepted is 0 for a perfect sink");
  CHECK(refusal({}, {{1, 1, 0, 0}, {1, 1, 0, 1.5}}) ==
        "carry_over of bath 2 = 1.5: accepted is 0 to 1");
  CHECK(refusal({}, {{1, 1, 0, 0.5}}) ==
        "carry_over of bath 1 = 0.5: accepted is 0, there is no bath before it");
  CHECK(refusal({}, {{4, 1, 0, 0}, {1, 1, 0, 0.5}}) ==
        "carry_over of bath 2 = 0.5: accepted is no more liquid than the new bath holds");
  CHECK(refusal({}, {{kInfinity, 1, 0, 0}, {1, 1, 0, 0.5}}) ==
        "carry_over of bath 2 = 0.5: accepted is 0 beside a perfect sink");
  CHECK(refusal({BodyShape::sphere, InitialLoad::at_metal}, {}) ==
        "load = at-metal: accepted is uniform for a cylinder or sphere");
  CHECK(refusal({BodyShape::slab, InitialLoad::uniform, 0}, {}) ==
        "biot = 0: accepted is above 0, infinity for perfect stirring");
  ModeOptions options;
  options.accuracy = 0;
  CHECK(refusal({}, {}, options) == "accuracy = 0: accepted is above 0 to 0.01");
  CHECK_THROWS_AS(mode_roots(BodyShape::slab, -1, 3), InputError);
  CHECK_THROWS_WITH(mode_roots(BodyShape::slab, 1, 1'000'000'000),
                    "count = 1000000000: accepted is 1 to 100 000 roots");
  CHECK_THROWS_AS(mode_roots(BodyShape::slab, 1, 0), InputError);
  CHECK_THROWS_AS(compare_bath_counts({}, 1, 1, std::vector<std::size_t>{0}), InputError);
}

TEST_CASE("names of shapes and loads are read, and a near miss is named") {
  CHECK(body_shape("sphere") == BodyShape::sphere);
  CHECK(initial_load("at-metal") == InitialLoad::at_metal);
  CHECK_THROWS_WITH(body_shape("spere"), "no shape named 'spere'; nearest is 'sphere'");
  CHECK_THROWS_AS(initial_load("uniformly"), UnknownName);
}

TEST_CASE("a bath of no length changes the bath only") {
  const std::array baths{BathStep{5, 0.2, 0, 0}, BathStep{5, 0, 0.3, 0}, BathStep{5, 0.1, 0, 0}};
  const BathSeries series = bath_series({}, baths);
  CHECK(series.ends[1].left == series.ends[0].left);
  CHECK(series.ends[1].in_bath == 0.3);
  const std::array without{baths[0], baths[2]};
  CHECK(std::abs(series.ends[2].left - bath_series({}, without).ends[1].left) < 1e-12);
}

TEST_CASE("a curve meets the ends of the baths and keeps to its times") {
  const std::array baths{BathStep{5, 0.2, 0, 0}, BathStep{8, 0.1, 0.02, 0.1}};
  const BathSeries series = bath_series({}, baths);
  const std::array tau{0.0, 0.1, 0.2, 0.25, 0.3};
  const auto curve = bath_curve({}, baths, tau);
  REQUIRE(curve.size() == 5);
  CHECK(curve[0].left == 1);
  CHECK(curve[2].bath == 0);
  CHECK(std::abs(curve[2].in_bath - series.ends[0].in_bath) < 1e-13);
  CHECK(std::abs(curve[4].left - series.ends[1].left) < 1e-10);
  CHECK_THROWS_WITH(bath_curve({}, baths, std::array{0.31}),
                    "tau = 0.31: accepted is a moment before the last bath ends");
  CHECK_THROWS_AS(bath_curve({}, baths, std::array{0.2, 0.1}), InputError);
}

TEST_CASE("elementwise figures let NaN through and know their limits") {
  CHECK(std::isnan(fraction_of_final_release(BodyShape::slab, kNan, 1)));
  CHECK(std::isnan(fraction_of_final_release(BodyShape::slab, 1, kNan)));
  CHECK(fraction_of_final_release(BodyShape::slab, 1, kInfinity) == 1);
  CHECK(fraction_of_final_release(BodyShape::slab, 1, 0) == 0);
}

TEST_CASE("a limit on the modes is kept and shows in the truncation error") {
  ModeOptions options;
  options.modes_max = 20;
  const std::array baths{BathStep{5, 1e-5, 0, 0}};
  const BathSeries series = bath_series({BodyShape::sphere}, baths, options);
  CHECK(series.modes == 20);
  CHECK(series.truncation_error > 1e-3);
}

TEST_CASE("a film slows the start and not the end of equilibrium") {
  const std::array baths{BathStep{5, 50, 0, 0}};
  for (const auto shape : {BodyShape::slab, BodyShape::cylinder, BodyShape::sphere}) {
    const std::array brief{BathStep{5, 0.02, 0, 0}};
    CHECK(bath_series({shape, InitialLoad::uniform, 1}, brief).ends[0].left >
          bath_series({shape}, brief).ends[0].left);
    CHECK(std::abs(bath_series({shape, InitialLoad::uniform, 1}, baths).ends[0].left - 1.0 / 6) <
          1e-12);
  }
}

TEST_CASE("what stays in the vessel goes into the next bath, and the first has none before it") {
  BathForecastRequest request;
  request.rate_per_day = 0.01;
  request.load_mg = 500;
  request.volumes_l = {2, 2};
  request.days = {7};
  request.capacity_l = 0.1;
  const BathForecast clean = forecast_baths(request);
  request.carry_over = 0.05;
  const BathForecast carried = forecast_baths(request);
  REQUIRE(carried.baths.size() == 2);
  CHECK(carried.baths[0].in_bath_mg == clean.baths[0].in_bath_mg);
  // A little of what was carried over goes back into the body.
  const double more = carried.baths[1].in_bath_mg - clean.baths[1].in_bath_mg;
  CHECK(more < 0.05 * clean.baths[0].in_bath_mg);
  CHECK(more > 0.9 * 0.05 * clean.baths[0].in_bath_mg);
}

TEST_CASE("a plan says whether changing the bath gains anything") {
  const std::vector<std::size_t> counts{1, 8};
  const BathComparison small = compare_bath_counts({}, 1, 3, counts);
  CHECK(small.gain > 10);
  CHECK(small.finding.ends_with(std::to_string(8) + " baths divides what is left by " +
                                detail::format_number(small.gain, 3) + "."));
  const BathComparison large = compare_bath_counts({}, 1000, 0.3, counts);
  CHECK(large.gain < 1.1);
  CHECK(large.finding.ends_with("changing hardly gains anything, diffusion inside is the limit."));
  const std::vector<std::size_t> backwards{8, 1};
  CHECK(compare_bath_counts({}, 1, 3, backwards).finding == small.finding);
  for (const BathPlan& plan : small.plans) CHECK(plan.left > small.endless_left);
  CHECK_THROWS_WITH(compare_bath_counts({}, 1, 0, counts), "total_tau = 0: accepted is above 0");
  CHECK_THROWS_WITH(compare_bath_counts({}, 1, 1, {}),
                    "baths = none: accepted is one count or more, each 1 to 1000");
}

TEST_CASE("one volume divided over the baths leaves the same liquid to each share") {
  const std::vector<std::size_t> four{4};
  const BathPlan divided = compare_bath_counts({}, 8, 1, four, BathLiquid::divided).plans[0];
  CHECK(divided.alpha == 2);
  CHECK(divided.left == compare_bath_counts({}, 2, 1, four).plans[0].left);
  CHECK(divided.equilibrium == std::pow(3.0, -4));
}
