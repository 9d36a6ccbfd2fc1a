// Which waters the lanes serve: a certificate there that refuses what is right leaves every answer
// right and the batch slow, for each water is then solved alone.

#include <cmath>
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

// A water of salt and calcite, and what two lanes of it come to by its plan.
class Calcite {
 public:
  Calcite() : system_(make_system(default_dataset(), options())) {
    HeldWater held;
    held.ph = 8;
    held.eh_v = 0.3;
    std::vector<double> totals(system_.columns.size(), 0);
    for (const auto& [name, moles] : {std::pair("calcite", 2e-3), std::pair("halite", 0.1)})
      add_ingredient(system_, name, moles, totals);
    fill_water(system_, totals, held, water_);
    Ties ties;
    REQUIRE(ties.reset(water_.chemistry));
    REQUIRE(ties.add_phase(water_.chemistry, 0));
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

  LanePlan plan;

 private:
  static EquilibriumOptions options() {
    EquilibriumOptions chosen;
    chosen.components = {"Na(+)", "Cl(-)", "CO3(2-)", "Ca(2+)"};
    chosen.precipitation = Precipitation::allowed;
    chosen.allowed_solids = {"calcite"};
    return chosen;
  }
  WaterSystem system_;
  Water water_;
};

}  // namespace

TEST_CASE("the certificate in lanes refuses an answer to other constants or totals", "[lanes]") {
  constexpr double kSmall = 1e-6;
  CHECK(Calcite().outcome() == kHeld);
  Calcite solid;
  solid.plan.phase_constant[0] += kSmall;
  CHECK(solid.outcome() == kAlone);
  Calcite species;
  species.plan.row_constant[0] -= kSmall;
  CHECK(species.outcome() == kAlone);
  Calcite totals;
  for (double& share : totals.plan.free_totals) share *= 1 + kSmall;
  CHECK(totals.outcome() == kAlone);
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
