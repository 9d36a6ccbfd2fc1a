#include "numerics/lanes.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "aeruca/constants.hpp"
#include "catch.hpp"
#include "equilibrium/lane_plan.hpp"
#include "equilibrium/workplace.hpp"

// Checked against the long double functions of the C library, which are good to 64 bits.

using namespace aeruca;
using namespace aeruca::detail;

namespace {

double units_apart(double value, long double truth) {
  const double near = static_cast<double>(truth);
  const double unit = std::nextafter(std::abs(near), 1e308) - std::abs(near);
  return static_cast<double>(std::abs(static_cast<long double>(value) - truth)) / unit;
}

// Random waters with copper, chloride, sodium, carbonate and sulfate.
struct Waters {
  std::vector<std::string> ingredients = {"Cu(2+)", "Cl(-)", "Na(+)", "CO3(2-)", "SO4(2-)"};
  std::vector<double> totals, ph, eh_v;
  std::size_t count = 0;

  explicit Waters(std::size_t n) : count(n) {
    std::mt19937_64 random(7);
    const auto between = [&](double a, double b) {
      return std::uniform_real_distribution<>(a, b)(random);
    };
    for (std::size_t r = 0; r < n; ++r) {
      for (std::size_t c = 0; c < ingredients.size(); ++c) {
        const double amount = std::pow(10, c == 0 ? between(-6, -2) : between(-4, -0.3));
        totals.push_back(c > 2 && random() % 4 == 0 ? 0 : amount);
      }
      ph.push_back(between(2, 12));
      eh_v.push_back(between(-0.3, 0.7));
    }
  }
  EquilibriumRows rows(std::size_t first, std::size_t n) const {
    const std::size_t k = ingredients.size();
    return {n, ingredients, std::span(totals).subspan(first * k, n * k),
            std::span(ph).subspan(first, n), std::span(eh_v).subspan(first, n)};
  }
};

Equilibrium prepared(ActivityModel model, int threads = 1) {
  EquilibriumOptions options;
  options.activity = model;
  options.components = Waters(0).ingredients;
  options.precipitation = Precipitation::allowed;
  options.threads = threads;
  return Equilibrium(default_dataset(), options);
}

}  // namespace

TEST_CASE("the exponential in lanes is within 1.5 units of the last place", "[lanes]") {
  std::mt19937_64 random(1);
  std::uniform_real_distribution<> wide(-700, 700);
  std::uniform_real_distribution<> near(-1, 1);
  double worst = 0;
  for (int i = 0; i < 200000; ++i) {
    const double x = i % 2 == 0 ? wide(random) : near(random);
    const Lanes<2> y = lane_exp<2>(lanes_of<2>(x));
    CHECK_FALSE(y[0] != y[1]);
    worst = std::max(worst, units_apart(y[0], std::exp(static_cast<long double>(x))));
  }
  INFO("worst " << worst);
  CHECK(worst < 1.5);
  CHECK(lane_exp<2>(lanes_of<2>(0.0))[0] == 1);
  CHECK(lane_exp<2>(lanes_of<2>(-1e9))[0] < 1e-300);
  CHECK(std::isfinite(lane_exp<2>(lanes_of<2>(1e9))[0]));
}

TEST_CASE("the logarithm in lanes is within 2 units of the last place", "[lanes]") {
  std::mt19937_64 random(2);
  std::uniform_real_distribution<> wide(-700, 700);
  std::uniform_real_distribution<> near(0.5, 2);
  double worst = 0;
  for (int i = 0; i < 200000; ++i) {
    const double x = i % 2 == 0 ? std::exp(wide(random)) : near(random);
    const double y = lane_log<2>(lanes_of<2>(x))[1];
    worst = std::max(worst, units_apart(y, std::log(static_cast<long double>(x))));
  }
  INFO("worst " << worst);
  CHECK(worst < 2);
  CHECK(lane_log<2>(lanes_of<2>(1.0))[0] == 0);
}

TEST_CASE("a batch in lanes answers as one water alone does", "[lanes]") {
  const Waters waters(3000);
  for (const auto model : {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit}) {
    const Equilibrium system = prepared(model);
    const auto batch = system.solve_many(waters.rows(0, waters.count));
    const std::size_t n = system.species().size();
    double worst = 0;
    std::size_t formed = 0;
    for (std::size_t r = 0; r < waters.count; ++r) {
      EquilibriumInput input;
      input.ph = waters.ph[r];
      input.eh_v = waters.eh_v[r];
      for (std::size_t c = 0; c < waters.ingredients.size(); ++c)
        input.totals_mol_per_kg[waters.ingredients[c]] =
            waters.totals[r * waters.ingredients.size() + c];
      const auto one = system.solve(input);
      REQUIRE((one.status == Status::converged) == (batch.certified[r] == 1));
      if (batch.certified[r] == 0) continue;
      for (std::size_t i = 0; i < n; ++i) {
        const double other = batch.log10_molality[r * n + i];
        if (std::isfinite(other) || std::isfinite(one.log10_molality[i]))
          worst = std::max(worst, std::abs(other - one.log10_molality[i]));
      }
      CHECK(std::abs(batch.water_activity[r] - one.water_activity) < 1e-12);
      CHECK(std::abs(batch.ph[r] - one.ph) < 1e-12);
      formed += one.formed().size();
    }
    INFO(to_string(model) << " worst " << worst);
    CHECK(worst < 1e-10);
    CHECK(formed > waters.count / 4);  // solids, too, go in lanes
  }
}

TEST_CASE("neither grouping nor threads show in a batch, to the last bit", "[lanes]") {
  const Waters waters(2500);
  const Equilibrium one = prepared(ActivityModel::sit, 1);
  const auto whole = one.solve_many(waters.rows(0, waters.count));
  const auto threaded = prepared(ActivityModel::sit, 2).solve_many(waters.rows(0, waters.count));
  const auto same = [](const std::vector<double>& a, const double* b) {
    return std::equal(a.begin(), a.end(), b, [](double x, double y) {
      return x == y || (std::isnan(x) && std::isnan(y));
    });
  };
  CHECK(same(whole.log10_molality, threaded.log10_molality.data()));
  CHECK(same(whole.solid_mol_per_kg, threaded.solid_mol_per_kg.data()));
  // Each water as a batch of its own: no neighbour, yet the same bits.
  std::size_t differ = 0;
  for (std::size_t r = 0; r < waters.count; ++r) {
    const auto part = one.solve_many(waters.rows(r, 1));
    if (!same(part.log10_molality, whole.log10_molality.data() + r * one.species().size()))
      ++differ;
  }
  CHECK(differ == 0);
  for (const std::size_t first : {0U, 1U, 5U, 1001U}) {
    for (const std::size_t count : {1U, 3U, 17U}) {
      const auto part = one.solve_many(waters.rows(first, count));
      CHECK(same(part.log10_molality, whole.log10_molality.data() + first * one.species().size()));
      CHECK(same(part.water_activity, whole.water_activity.data() + first));
    }
  }
}

TEST_CASE("kernels of every width give the same answer", "[lanes]") {
  const auto model = GENERATE(ActivityModel::ideal, ActivityModel::sit, ActivityModel::pitzer);
  EquilibriumOptions options;
  options.activity = model;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  // At 6 mol/kg the norm of K is above 1: Pitzer's equations need the factors of I + K.
  const double salt = GENERATE(0.6, 6.0);
  const WaterSystem system = make_system(default_dataset(), options);
  HeldWater held;
  held.ph = 6;
  held.eh_v = 0.25;
  Water water;
  fill_water(system, std::vector<double>{0, 0, 1e-4, salt, salt}, held, water);
  Ties ties;
  REQUIRE(ties.reset(water.chemistry));
  const auto plan = make_lane_plan(system, water, ties);
  REQUIRE(plan);
  std::vector<double> first;
  for (const LaneKernel& kernel : lane_kernels()) {
    const std::size_t w = kernel.width;
    const auto spread = [&](const std::vector<double>& values) {
      std::vector<double> by_lane;
      for (const double value : values) by_lane.insert(by_lane.end(), w, value);
      return by_lane;
    };
    const auto totals = spread(water.chemistry.totals);
    const auto tied = spread(water.chemistry.pinned.constant);
    std::vector<double> u(plan->species * w), lambda(plan->columns * w), ln_water(w), strength(w),
        outcome(w), solid(w), scratch(plan->scratch(w));
    kernel.solve(plan->view(),
                 {totals.data(), tied.data(), nullptr, u.data(), lambda.data(), nullptr,
                  ln_water.data(), strength.data(), outcome.data(), solid.data()},
                 scratch.data());
    INFO(to_string(model) << ", " << salt << " mol/kg, " << kernel.machine);
    for (std::size_t l = 0; l < w; ++l) CHECK(static_cast<int>(outcome[l]) == kHeld);
    if (first.empty()) {
      for (std::size_t i = 0; i < plan->species; ++i) first.push_back(u[i * w]);
    }
    for (std::size_t i = 0; i < plan->species; ++i)
      CHECK(std::abs(u[i * w + w - 1] - first[i]) < 1e-11);
  }
  CHECK(lane_kernels().front().width == 2);
}
