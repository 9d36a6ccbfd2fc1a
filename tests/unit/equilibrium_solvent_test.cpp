// The water activity held, as in air of a relative humidity: how much water there is then.

#include <cmath>
#include <string>
#include <vector>

#include "aeruca/constants.hpp"
#include "aeruca/equilibrium.hpp"
#include "catch.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

EquilibriumOptions options_of(ActivityModel model) {
  EquilibriumOptions options;
  options.activity = model;
  options.solvent = Solvent::water_activity;
  options.components = {"Na(+)", "K(+)", "Cl(-)", "SO4(2-)", "Mg(2+)"};
  options.precipitation = Precipitation::allowed;
  return options;
}

EquilibriumInput held_at(double water_activity, std::map<std::string, double> totals) {
  EquilibriumInput input;
  input.ph = 7;
  input.eh_v = 0.4;
  input.water_activity = water_activity;
  input.totals_mol_per_kg = std::move(totals);
  return input;
}

EquilibriumResult solve(ActivityModel model, double water_activity,
                        std::map<std::string, double> totals) {
  return Equilibrium(default_dataset(), options_of(model))
      .solve(held_at(water_activity, std::move(totals)));
}

}  // namespace

// ln a_w = -M_w sum m, so that sum m = -ln 0.9 / M_w and 2 mol of ions fill W = 2 / sum m; the
// 2e-7 mol/kg of H(+) and OH(-) are counted with them.
TEST_CASE("an ideal brine holds the water of its water activity") {
  const auto result = solve(ActivityModel::ideal, 0.9, {{"Na(+)", 1}, {"Cl(-)", 1}});
  INFO(result.message);
  REQUIRE(result.status == Status::converged);
  CHECK(result.certificate.holds());
  const double others = 1e-7 + std::pow(10, -6.9951) * 0.9;
  const double solvent = 2 / (-std::log(0.9) / kWaterMolarMass - others);
  CHECK(std::abs(result.solvent_kg / solvent - 1) < 1e-8);
  CHECK(std::abs(result.molality_of("Na(+)") * result.solvent_kg - 1) < 1e-9);
  CHECK(std::abs(result.water_activity - 0.9) < 1e-9);
}

// Osmotic coefficient of 1 mol/kg sodium chloride at 25 C: 0.9355 (Robinson and Stokes 1965, as
// the table of tests/reference/osmotic.csv; recalled), good to 0.001.
TEST_CASE("a kilogram of water is there at the water activity of 1 mol/kg sodium chloride") {
  const double water_activity = std::exp(-kWaterMolarMass * 2 * 0.9355);
  const auto result = solve(ActivityModel::pitzer, water_activity, {{"halite", 1}});
  REQUIRE(result.status == Status::converged);
  CHECK(std::abs(result.solvent_kg - 1) < 0.0015);
}

TEST_CASE("what is held is the water of one kilogram with the totals for that much solvent") {
  const std::map<std::string, double> totals{
      {"halite", 5}, {"sylvite", 5}, {"Mg(2+)", 0.2}, {"SO4(2-)", 0.2}};
  EquilibriumOptions plain = options_of(ActivityModel::pitzer);
  plain.solvent = Solvent::one_kg;
  const Equilibrium one_kg(default_dataset(), plain);
  std::size_t with_solids = 0;
  for (const double water_activity : {0.72, 0.735, 0.75, 0.85, 0.95, 0.9999, 0.9999999}) {
    CAPTURE(water_activity);
    const auto held = solve(ActivityModel::pitzer, water_activity, totals);
    INFO(held.message);
    REQUIRE(held.status == Status::converged);
    EquilibriumInput input = held_at(0, {});
    input.water_activity.reset();
    for (const auto& [name, moles] : totals)
      input.totals_mol_per_kg[name] = moles / held.solvent_kg;
    const auto same = one_kg.solve(input);
    REQUIRE(same.status == Status::converged);
    CHECK(std::abs(std::log(same.water_activity) / std::log(water_activity) - 1) < 1e-9);
    for (std::size_t i = 0; i < held.species.size(); ++i)
      CHECK(std::abs(held.molality[i] - same.molality[i]) <= 1e-9 * same.molality[i]);
    // Solids are per kilogram of water given.
    for (const auto& [name, moles] : same.formed())
      CHECK(std::abs(held.formed().at(name) - moles * held.solvent_kg) < 1e-9);
    CHECK(held.formed().size() == same.formed().size());
    with_solids += held.formed().size();
  }
  CHECK(with_solids > 0);
}

TEST_CASE("more of everything takes more water and changes nothing else") {
  const auto one = solve(ActivityModel::sit, 0.85, {{"Na(+)", 1}, {"Cl(-)", 1}});
  const auto ten = solve(ActivityModel::sit, 0.85, {{"Na(+)", 10}, {"Cl(-)", 10}});
  REQUIRE(ten.status == Status::converged);
  CHECK(std::abs(ten.solvent_kg / one.solvent_kg - 10) < 1e-8);
  CHECK(std::abs(ten.ionic_strength / one.ionic_strength - 1) < 1e-9);
}

TEST_CASE("below the humidity of its saturated solution a salt is dry, and that is said") {
  const auto result = solve(ActivityModel::pitzer, 0.7, {{"halite", 1}});
  CHECK(result.status == Status::infeasible);
  CHECK_THAT(result.message, contains("solids take up everything, and the last of the solution "
                                      "still has 0.75"));
  CHECK(std::isnan(result.solvent_kg));
  CHECK_FALSE(result.certificate.holds());
  // With another salt the last of the solution dries further on.
  CHECK(solve(ActivityModel::pitzer, 0.74, {{"halite", 1}, {"sylvite", 0.01}}).status ==
        Status::converged);
}

// At pH 0 an ideal solution has 1 mol/kg of H(+) and more; 1e-7 of H(+) and of OH(-) are there at
// pH 7.
TEST_CASE("a water activity that what is held does not allow is refused with what it allows") {
  EquilibriumInput acid = held_at(0.999, {{"Cl(-)", 0.1}});
  acid.ph = 0;
  const auto result = Equilibrium(default_dataset(), options_of(ActivityModel::ideal)).solve(acid);
  CHECK(result.status == Status::infeasible);
  CHECK_THAT(result.message, contains("no amount of water brings the water activity up to 0.999"));
}

TEST_CASE("a water activity absent, not used or without a solute is refused by name") {
  const Equilibrium system(default_dataset(), options_of(ActivityModel::sit));
  EquilibriumInput input = held_at(0.8, {{"halite", 1}});
  input.water_activity.reset();
  CHECK_THROWS_WITH(system.solve(input), contains("water_activity = not given: accepted is above"));
  for (const double wrong : {0.0, 1.0, -0.1})
    CHECK_THROWS_WITH(system.solve(held_at(wrong, {{"halite", 1}})),
                      contains("accepted is above 0, below 1"));
  CHECK_THROWS_WITH(system.solve(held_at(0.8, {})),
                    contains("totals_mol_per_kg = nothing: accepted is something to dissolve"));
  EquilibriumOptions plain = options_of(ActivityModel::sit);
  plain.solvent = Solvent::one_kg;
  CHECK_THROWS_WITH(
      Equilibrium(default_dataset(), plain).solve(held_at(0.8, {{"halite", 1}})),
      contains("water_activity with solvent water_activity only; this system has solvent one_kg"));
  CHECK(solvent_from(to_string(Solvent::water_activity)) == Solvent::water_activity);
  CHECK_THROWS_AS(solvent_from("1 kg"), InputError);
}

TEST_CASE("in a batch the water activity is held by row as in one water") {
  const Equilibrium system(default_dataset(), options_of(ActivityModel::pitzer));
  const std::vector<std::string> ingredients{"halite", "sylvite"};
  const std::vector<double> totals{1, 0.5, 2, 0, 0.1, 0.1};
  const std::vector<double> ph{7, 7, 6}, eh{0.4, 0.4, 0.3}, activity{0.8, 0.7, 0.73};
  EquilibriumRows rows{3, ingredients, totals, ph, eh};
  rows.water_activity = activity;
  const auto batch = system.solve_many(rows);
  for (std::size_t r = 0; r < 3; ++r) {
    EquilibriumInput input = held_at(activity[r], {{"halite", totals[2 * r]}});
    input.totals_mol_per_kg["sylvite"] = totals[2 * r + 1];
    input.ph = ph[r];
    input.eh_v = eh[r];
    const auto one = system.solve(input);
    REQUIRE(static_cast<int>(one.status) == batch.status[r]);
    if (one.status != Status::converged) continue;
    CHECK(batch.solvent_kg[r] == one.solvent_kg);
    CHECK(batch.water_activity[r] == one.water_activity);
    for (std::size_t s = 0; s < one.allowed_solids.size(); ++s)
      CHECK(batch.solid_mol_per_kg[r * one.allowed_solids.size() + s] == one.solid_mol_per_kg[s]);
  }
  CHECK(batch.certified[1] == 0);
}
