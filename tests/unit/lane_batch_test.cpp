// Which waters the lanes serve: a certificate there that refuses what is right leaves every answer
// right and the batch slow, for each water is then solved alone.

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/constants.hpp"
#include "catch.hpp"
#include "equilibrium/lane_batch.hpp"
#include "equilibrium/system.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

// Of 40 waters of salt and carbonate without solids, at pH 5 to 9: how many have to go alone.
std::size_t left_alone(Redox redox, bool dioxide_held) {
  EquilibriumOptions options;
  options.redox = redox;
  options.components = {"Na(+)", "Cl(-)", "CO3(2-)"};
  const WaterSystem system = make_system(default_dataset(), options);
  constexpr std::size_t kWaters = 40;
  EquilibriumBatch batch = make_batch(system, {}, kWaters);
  ColumnWriter columns(system, system, batch);
  LaneBatch lanes(system, columns);
  HeldWater held;
  held.eh_v = 0.3;
  held.oxygen_bar = 0.2;
  if (dioxide_held) held.gases = {{find_gas(system, "CO2(g)"), std::log(4e-4)}};
  Water water;
  for (std::size_t r = 0; r < kWaters; ++r) {
    held.ph = 5 + 0.1 * static_cast<double>(r);
    std::vector<double> totals(system.columns.size(), 0.02);
    fill_water(system, totals, held, water);
    if (!lanes.add(water, r)) return kWaters;
  }
  lanes.finish();
  for (const auto holds : batch.certified) CHECK(holds == 1);
  return lanes.alone().size();
}

// A water, and what two lanes of it come to by its plan.
class Laned {
 public:
  Laned(const EquilibriumOptions& options, const std::map<std::string, double>& ingredients)
      : system_(make_system(default_dataset(), options)) {
    HeldWater held;
    held.ph = 8;
    held.eh_v = 0.3;
    std::vector<double> totals(system_.columns.size(), 0);
    for (const auto& [name, moles] : ingredients) add_ingredient(system_, name, moles, totals);
    fill_water(system_, totals, held, water_);
    Ties ties;
    REQUIRE(ties.reset(water_.chemistry));
    for (std::size_t s = 0; s < water_.phases.size(); ++s)
      REQUIRE(ties.add_phase(water_.chemistry, s));
    plan = *make_lane_plan(system_, water_, ties);
  }

  [[nodiscard]] int outcome() const {
    const LaneKernel& kernel = lane_kernels().front();
    const std::size_t w = kernel.width;
    std::vector<double> totals, tied;
    for (const double total : water_.chemistry.totals) totals.insert(totals.end(), w, total);
    for (const double pin : water_.chemistry.pinned.constant) tied.insert(tied.end(), w, pin);
    for (const double constant : plan.tied_constant) tied.insert(tied.end(), w, constant);
    std::vector<double> ln_molality(plan.species * w), lambda(plan.columns * w), amount(w),
        ln_water(w), strength(w), outcome(w), solid(w), scratch(plan.scratch(w));
    kernel.solve(plan.view(),
                 {totals.data(), tied.data(), nullptr, ln_molality.data(), lambda.data(),
                  amount.data(), ln_water.data(), strength.data(), outcome.data(), solid.data()},
                 scratch.data());
    return static_cast<int>(outcome.front());
  }

  [[nodiscard]] std::string name_of(std::size_t species) const {
    return system_.species.names[water_.species[species]];
  }

  LanePlan plan;

 private:
  WaterSystem system_;
  Water water_;
};

Laned calcite() {
  EquilibriumOptions options;
  options.components = {"Na(+)", "Cl(-)", "CO3(2-)", "Ca(2+)"};
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {"calcite"};
  return {options, {{"calcite", 2e-3}, {"halite", 0.1}}};
}

// Two cations and two anions that attract each other by d ln gamma_i = -pull d ln m_j. Where all do
// alike the first change to fall apart is that of all four together, at 3 pull = 1; the change that
// parts the charges is none.
Laned four_ions(double pull_of_like, double pull_of_unlike) {
  EquilibriumOptions options;
  options.activity = ActivityModel::pitzer;
  options.components = {"Na(+)", "K(+)", "Cl(-)", "NO3(-)"};
  constexpr double kEach = 0.1;
  Laned water(options, {{"Na(+)", kEach}, {"K(+)", kEach}, {"Cl(-)", kEach}, {"NO3(-)", kEach}});
  PitzerSystem made_up;
  made_up.charge = water.plan.charge;
  std::vector<std::size_t> every, four;
  for (std::size_t i = 0; i < water.plan.species; ++i) {
    every.push_back(i);
    const auto& own = options.components;
    if (std::find(own.begin(), own.end(), water.name_of(i)) != own.end()) four.push_back(i);
  }
  REQUIRE(four.size() == 4);
  for (std::size_t a = 0; a < four.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      const bool like = made_up.charge[four[a]] == made_up.charge[four[b]];
      const double pull = like ? pull_of_like : pull_of_unlike;
      made_up.twos.push_back({four[a], four[b], -pull / kEach});
    }
  }
  water.plan.pitzer = PitzerTable(made_up, every);
  return water;
}

}  // namespace

TEST_CASE("the balances of waters in lanes close next to rounding", "[lanes]") {
  EquilibriumOptions options;
  const std::vector<std::string> ions{"Na(+)", "Cl(-)", "SO4(2-)", "Cu(2+)"};
  options.components = ions;
  const auto dataset = default_dataset();
  constexpr std::size_t kWaters = 400;
  std::vector<double> totals, ph, eh_v;
  for (std::size_t r = 0; r < kWaters; ++r) {
    const auto x = static_cast<double>(r);
    ph.push_back(4 + 0.01 * x);
    eh_v.push_back(0.3);
    for (const double most : {0.3, 0.2, 0.1, 1e-3}) totals.push_back(most * (1 + x) / kWaters);
  }
  EquilibriumRows rows;
  rows.count = kWaters;
  rows.ingredients = ions;
  rows.totals_mol_per_kg = totals;
  rows.ph = ph;
  rows.eh_v = eh_v;
  const EquilibriumBatch batch = Equilibrium(dataset, options).solve_many(rows);
  const std::size_t n = batch.species.size();
  double worst = 0;
  for (std::size_t r = 0; r < kWaters; ++r) {
    REQUIRE(batch.certified[r] == 1);
    for (std::size_t k = 0; k < ions.size(); ++k) {
      const std::size_t component = dataset->component_index(ions[k]);
      double sum = 0;
      for (std::size_t i = 0; i < n; ++i) {
        sum += dataset->at(batch.species[i]).components[component] *
               std::pow(10, batch.log10_molality[r * n + i]);
      }
      worst = std::max(worst, std::abs(sum / totals[r * ions.size() + k] - 1));
    }
  }
  CHECK(worst < 1e-12);
}

TEST_CASE("the certificate in lanes refuses an answer to other constants or totals", "[lanes]") {
  constexpr double kSmall = 1e-6;
  CHECK(calcite().outcome() == kHeld);
  Laned solid = calcite();
  solid.plan.phase_constant[0] += kSmall;
  CHECK(solid.outcome() == kAlone);
  Laned species = calcite();
  species.plan.row_constant[0] -= kSmall;
  CHECK(species.outcome() == kAlone);
  Laned totals = calcite();
  for (double& share : totals.plan.free_totals) share *= 1 + kSmall;
  CHECK(totals.outcome() == kAlone);
}

TEST_CASE("the certificate in lanes refuses a solution that would fall apart", "[lanes]") {
  CHECK(four_ions(0.15, 0.15).outcome() == kHeld);  // a bound of the norm decides
  CHECK(four_ions(0.31, 0.31).outcome() == kHeld);
  CHECK(four_ions(0.36, 0.36).outcome() == kAlone);
  CHECK(four_ions(-0.31, 0.31).outcome() == kHeld);
  CHECK(four_ions(0.31, -0.31).outcome() == kHeld);
}

// 9.25 mol/kg of a salt with 6 H2O hold as much water as there is; half of that counts (bounds by
// moles of each component: twice as much chloride as magnesium).
TEST_CASE("how much may have a second answer counts a component as often as the hydrate does",
          "[lanes]") {
  EquilibriumOptions options;
  options.components = {"Mg(2+)", "Cl(-)"};
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {"bischofite"};
  const WaterSystem system = make_system(default_dataset(), options);
  HeldWater held;
  held.ph = 7;
  held.eh_v = 0.3;
  Water water;
  fill_water(system, std::vector<double>(system.columns.size(), 0.1), held, water);
  Ties ties;
  REQUIRE(ties.reset(water.chemistry));
  const LanePlan plan = *make_lane_plan(system, water, ties);
  const double salt = 0.5 / (6 * kWaterMolarMass);
  for (std::size_t j = 0; j < plan.columns; ++j) {
    const std::string& name = system.columns[water.column[j]];
    if (name == "Mg(2+)") CHECK(std::abs(plan.second_answer[j] / salt - 1) < 1e-12);
    if (name == "Cl(-)") CHECK(std::abs(plan.second_answer[j] / (2 * salt) - 1) < 1e-12);
  }
}

TEST_CASE("no plain water is left to the single solver, whatever is held", "[lanes]") {
  CHECK(left_alone(Redox::eh, false) == 0);
  CHECK(left_alone(Redox::eh, true) == 0);
  CHECK(left_alone(Redox::oxygen, false) == 0);
  CHECK(left_alone(Redox::oxygen, true) == 0);
}
