// Reaction paths: what forms in what order, where, and when only a supply says so.

#include "aeruca/path.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

EquilibriumOptions copper_in_salt() {
  EquilibriumOptions options;
  options.redox = Redox::conserved;
  options.acidity = Acidity::charge_balance;
  options.precipitation = Precipitation::allowed;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  return options;
}

// 0.1 mol of copper in a kilogram of 0.6 mol/kg salt water, until it is at peace with the air.
ReactionPath rusting() {
  ReactionPath path;
  path.kind = PathKind::aerate;
  path.system = copper_in_salt();
  path.start.totals_mol_per_kg = {{"copper", 0.1}, {"halite", 0.6}};
  path.gas = "O2(g)";
  path.gas_bar = 0.2095;
  return path;
}

PathResult follow(const ReactionPath& path) {
  return follow_path(default_dataset(), path);
}

bool near(double value, double wanted, double within) {
  return std::abs(value - wanted) <= within;
}

}  // namespace

TEST_CASE("copper in salt water takes up oxygen by cuprite, then tenorite, then the chloride") {
  const PathResult path = follow(rusting());
  REQUIRE(path.status == Status::converged);
  std::vector<std::string> order;
  for (const PathEvent& event : path.events)
    order.push_back(std::string(to_string(event.change)) + " " + event.solid);
  REQUIRE(order.size() >= 5);
  CHECK(order[0] == "appears cuprite");
  CHECK(order[1] == "disappears copper");
  CHECK(order[2] == "appears tenorite");
  CHECK(order.back() == "air_reached ");
  // 4 Cu + O2 = 2 Cu2O: the metal is gone at a quarter of its amount, less what is dissolved.
  CHECK(near(path.events[1].progress, 0.025, 1e-4));
  CHECK(near(path.progress.back(), 0.05, 1e-3));  // 2 Cu + O2 = 2 CuO
}

// Modestov and others 1995, J. Electroanal. Chem. 380, 63: in chloride solution cuprite forms first
// at pH 8.5 and above, nantokite at 5.7 and below.
TEST_CASE("films form on copper in the order that voltammetry saw") {
  const auto first = [](double ph) {
    ReactionPath path = rusting();
    path.system.acidity = Acidity::given_ph;
    path.start.ph = ph;
    path.start.totals_mol_per_kg = {{"copper", 1}, {"halite", 1}};
    path.to = 0.2;
    for (const PathEvent& event : follow(path).events)
      if (event.change == PathChange::appears) return event.solid;
    return std::string();
  };
  CHECK(first(8.5) == "cuprite");
  CHECK(first(5.0) == "nantokite");
}

TEST_CASE("an event lies where the solver says that the solid begins") {
  const PathResult path = follow(rusting());
  const auto tenorite = path.appearance("tenorite");
  REQUIRE(tenorite);
  CHECK(tenorite->within <= 1e-9 * path.progress.back());
  const Equilibrium system(default_dataset(), copper_in_salt());
  const auto amount = [&](double oxygen) {
    const auto result =
        system.solve({.totals_mol_per_kg = {{"copper", 0.1}, {"halite", 0.6}, {"O2(aq)", oxygen}},
                      .ph = {},
                      .eh_v = {},
                      .oxygen_bar = {},
                      .fugacity_bar = {},
                      .water_activity = {}});
    REQUIRE(result.status == Status::converged);
    return result.formed().contains("tenorite") ? result.formed().at("tenorite") : 0.0;
  };
  CHECK(amount(tenorite->progress * (1 - 1e-5)) == 0);
  CHECK(amount(tenorite->progress * (1 + 1e-5)) > 0);
}

TEST_CASE("events do not depend on the steps, and copper is kept along the path") {
  ReactionPath coarse = rusting(), fine = rusting();
  coarse.steps = 20;
  fine.steps = 500;
  const PathResult one = follow(coarse), other = follow(fine);
  REQUIRE(one.events.size() == other.events.size());
  for (std::size_t i = 0; i < one.events.size(); ++i) {
    CHECK(one.events[i].solid == other.events[i].solid);
    CHECK(near(one.events[i].progress, other.events[i].progress, 1e-8));
  }
  const auto dataset = default_dataset();
  const std::size_t copper = dataset->component_index("Cu(2+)");
  for (std::size_t p = 0; p < one.progress.size(); ++p) {
    double sum = one.dissolved_of("Cu(2+)")[p];
    for (const PathAmount& solid : one.solids)
      sum += solid.mol_per_kg[p] * dataset->at(solid.name).components[copper];
    CHECK(near(sum, 0.1, 1e-9));
  }
}

TEST_CASE("a carbonate bath loses carbon dioxide to the air and its pH rises") {
  ReactionPath path;
  path.kind = PathKind::aerate;
  path.system.acidity = Acidity::charge_balance;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Na(+)", "CO3(2-)"};
  path.start.eh_v = 0.4;
  path.gas = "CO2(g)";
  path.gas_bar = 4.2e-4;
  const auto bath = [&](double sodium, double carbonate, double bicarbonate) {
    path.start.totals_mol_per_kg = {
        {"Na(+)", sodium}, {"CO3(2-)", carbonate}, {"HCO3(-)", bicarbonate}};
    return follow(path);
  };
  const PathResult strong = bath(0.663, 0.221, 0.221);  // 5 % sesquicarbonate
  REQUIRE(strong.status == Status::converged);
  CHECK(strong.progress.back() < 0);
  CHECK(strong.ph.back() > strong.ph.front());
  CHECK(near(strong.log10_gas_bar.back(), std::log10(4.2e-4), 1e-6));
  const PathResult soda = bath(0.1, 0.05, 0);  // sodium carbonate takes it up
  CHECK(soda.progress.back() > 0);
  CHECK(soda.ph.back() < soda.ph.front());
}

TEST_CASE(
    "titration of copper with hydroxide precipitates it and the pH jumps when it is used up") {
  ReactionPath path;
  path.kind = PathKind::titrate;
  path.system.acidity = Acidity::charge_balance;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  path.start.eh_v = 0.8;
  path.start.totals_mol_per_kg = {{"eriochalcite", 0.01}};
  path.system.left_out = {"tenorite"};
  path.added = {{"Na(+)", 1.0}};  // the hydroxide beside it follows from the charge
  path.to = 0.03;
  const PathResult result = follow(path);
  REQUIRE(result.status == Status::converged);
  CHECK(near(result.solid("clinoatacamite")[99], 0.00495, 1e-5));  // 0.01485 mol of hydroxide
  const auto spertiniite = result.appearance("spertiniite");
  REQUIRE(spertiniite);
  CHECK(near(spertiniite->progress, 0.015, 1e-4));
  CHECK(result.ph.back() > 11);
}

TEST_CASE("dilution dissolves a solid where its solubility says, in amounts of the start") {
  ReactionPath path;
  path.kind = PathKind::dilute;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Ca(2+)", "SO4(2-)"};
  path.system.activity = ActivityModel::ideal;
  path.start.ph = 7;
  path.start.eh_v = 0.4;
  path.start.totals_mol_per_kg = {{"gypsum", 0.05}};
  path.to = 50;
  const PathResult result = follow(path);
  REQUIRE(result.status == Status::converged);
  REQUIRE(result.events.size() == 1);
  CHECK(result.events[0].change == PathChange::disappears);
  const double at = result.events[0].progress;
  const Equilibrium system(default_dataset(), path.system);
  EquilibriumInput saturated = path.start;
  const auto left = system.solve(saturated).formed();
  const double dissolved = 0.05 - left.at("gypsum");
  CHECK(near(at, 0.05 / dissolved, 1e-3 * at));
  for (const double sulfate : result.dissolved_of("SO4(2-)")) CHECK(sulfate < 0.05 + 1e-12);
  CHECK(near(result.dissolved_of("SO4(2-)").back(), 0.05, 1e-9));
}

TEST_CASE("drying salt water brings halite at the humidity of its saturated solution") {
  ReactionPath path;
  path.kind = PathKind::dry;
  path.system.activity = ActivityModel::pitzer;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Na(+)", "Cl(-)"};
  path.start.ph = 7;
  path.start.eh_v = 0.4;
  path.start.totals_mol_per_kg = {{"halite", 0.5}};
  path.to = 0.7;
  const PathResult result = follow(path);
  // Below that humidity nothing is left to be a solution.
  CHECK(result.status == Status::infeasible);
  CHECK(result.message.find("the path ends at a progress of 0.75") == 0);
  CHECK(near(result.progress.back(), 0.753, 0.002));
  CHECK(near(result.solvent_kg.back(), 0.5 / 6.14, 0.002));
  CHECK(near(result.solvent_kg.front(), 1, 1e-3));
}

TEST_CASE("warming moves the pH of a bath as one water at that temperature has it") {
  ReactionPath path;
  path.kind = PathKind::heat;
  path.system.acidity = Acidity::charge_balance;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Na(+)", "CO3(2-)"};
  path.start.eh_v = 0.4;
  path.start.totals_mol_per_kg = {{"Na(+)", 0.1326}, {"CO3(2-)", 0.0884}};
  path.to = 45;
  path.steps = 4;
  const PathResult result = follow(path);
  REQUIRE(result.status == Status::converged);
  CHECK(result.progress == std::vector<double>{25, 30, 35, 40, 45});
  EquilibriumOptions warm = path.system;
  warm.temperature_c = 45;
  CHECK(near(result.ph.back(), Equilibrium(default_dataset(), warm).solve(path.start).ph, 1e-8));
  CHECK(result.ph.back() < result.ph.front());
}

TEST_CASE("baths that are changed take out nantokite's chloride until cuprite alone is left") {
  ReactionPath path;
  path.kind = PathKind::change_bath;
  path.system = copper_in_salt();
  path.start.totals_mol_per_kg = {{"nantokite", 0.2}, {"Na(+)", 0.1}};
  path.added = {{"Na(+)", 0.1}};  // sodium hydroxide
  path.carried_over = 0.05;
  path.to = 4;
  const PathResult result = follow(path);
  REQUIRE(result.status == Status::converged);
  CHECK(result.progress == std::vector<double>{1, 2, 3, 4});
  CHECK(near(result.dissolved_of("Cl(-)")[0], 0.1, 0.01));  // as much as the bath has hydroxide
  CHECK(result.solid("nantokite")[0] > 0.05);
  CHECK(result.solid("nantokite")[3] == 0);
  // Copper is lost with each bath but for what clings.
  const auto& copper = result.dissolved_of("Cu(2+)");
  const double lost = 0.95 * (copper[0] + copper[1] + copper[2]) + copper[3];
  CHECK(near(result.solid("cuprite")[3], (0.2 - lost - result.solid("copper")[3]) / 2, 1e-9));
  const bool gone = std::any_of(result.events.begin(), result.events.end(), [](const auto& event) {
    return event.change == PathChange::disappears && event.solid == "nantokite";
  });
  CHECK(gone);
}

TEST_CASE("totals that cannot be held end a path with one sentence") {
  ReactionPath path;
  path.kind = PathKind::titrate;
  path.system.precipitation = Precipitation::allowed;
  path.system.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  path.system.redox = Redox::conserved;
  path.start.ph = 7;
  path.start.totals_mol_per_kg = {{"Cu(2+)", 1e-3}};
  path.added = {{"Na(+)", 900.0}};
  path.to = 1;
  const PathResult result = follow(path);
  CHECK(result.status != Status::converged);
  CHECK(result.message.find("the path ends at a progress of ") == 0);
  CHECK_THROWS_AS(result.raise_if_failed(), Error);
}

TEST_CASE("a path without its supply has no time, in one sentence") {
  const auto dataset = default_dataset();
  const PathResult path = follow(rusting());
  CHECK_THROWS_WITH(path_days(*dataset, path, {}, 10),
                    "supply = none: accepted is an oxygen layer or a current, for without a supply "
                    "a path has no time");
  PathSupply layer;
  layer.kind = SupplyKind::oxygen_layer;
  CHECK_THROWS_AS(path_days(*dataset, path, layer, 10), InputError);  // no depth
  layer.depth_mm = 2;
  const auto days = path_days(*dataset, path, layer, 10);
  CHECK(days.size() == path.progress.size());
  CHECK(std::is_sorted(days.begin(), days.end()));
  PathResult titration;
  CHECK_THROWS_AS(path_days(*dataset, titration, layer, 10), InputError);
}

TEST_CASE("Fick and Faraday bring what they say") {
  const auto dataset = default_dataset();
  PathSupply layer;
  layer.kind = SupplyKind::oxygen_layer;
  layer.depth_mm = 1;
  // 2.1e-9 m2/s times 0.28 mol/m3 (1.34e-3 mol/(kg bar)) over 1 mm, for a day
  CHECK(near(oxygen_supply(*dataset, layer), 2.1e-9 * 0.280 / 1e-3 * 86400, 0.001));
  PathSupply deeper = layer;
  deeper.depth_mm = 5;
  CHECK(near(oxygen_supply(*dataset, layer) / oxygen_supply(*dataset, deeper), 5, 1e-12));
  PathSupply current;
  current.kind = SupplyKind::current;
  current.current_a_per_m2 = 0.1;
  CHECK(near(oxygen_supply(*dataset, current), 0.1 * 86400 / (4 * 96485.33), 1e-9));
  // 1 um of cuprite over a square metre is 1 cm3 of it
  const double moles = 1 / dataset->mineral("cuprite").molar_volume_cm3_per_mol();
  CHECK(near(thickness_nm(*dataset, "cuprite", moles), 1000, 1e-9));
}

TEST_CASE("copper(I) lives minutes in sea water with air, as its published rate says") {
  const auto dataset = default_dataset();
  // log k = 10.73 + 0.23 8.1 - 2373/298.15 - 3.33 0.7^0.5 + 1.45 0.7, by hand 2.863
  const double k = copper_one_oxidation(*dataset, CopperOneMedium::sea_water, 8.1, 25, 0.7);
  CHECK(near(std::log10(k), 2.863, 0.002));
  // The temperature term is the activation energy printed beside it, 45.6 +/- 1.7 kJ/mol.
  const double from_equation =
      -dataset->figure("cu1-oxidation-sea-water.inverse-temperature").value * kGasConstant * kLn10 /
      1000;
  const Figure& printed = dataset->figure("cu1-oxidation-sea-water.activation-energy");
  CHECK(near(from_equation, printed.value, printed.uncertainty));
  CHECK_THROWS_AS(copper_one_oxidation(*dataset, CopperOneMedium::sea_water, 9, 25, 0.7),
                  InputError);
  CHECK_THROWS_AS(copper_one_oxidation(*dataset, CopperOneMedium::sodium_chloride, 8, 25, 0.1),
                  InputError);
}

TEST_CASE("water is as viscous as the release prints") {
  CHECK(near(viscosity_pa_s(25), 889.9968e-6, 1e-9));
  CHECK_THROWS_AS(viscosity_pa_s(-1), InputError);
}

TEST_CASE("what a kind of path has no use for, or lacks, is refused by name") {
  const auto refused = [](auto change) {
    ReactionPath path = rusting();
    change(path);
    CHECK_THROWS_AS(follow(path), InputError);
  };
  refused([](ReactionPath& p) { p.gas = "H2(g)"; });
  refused([](ReactionPath& p) { p.gas_bar.reset(); });
  refused([](ReactionPath& p) { p.added = {{"Na(+)", 1}}; });
  refused([](ReactionPath& p) { p.to = -1; });
  refused([](ReactionPath& p) { p.steps = 0; });
  refused([](ReactionPath& p) { p.carried_over = 0.1; });
  refused([](ReactionPath& p) { p.system.redox = Redox::eh; });
  refused([](ReactionPath& p) { p.system.precipitation = Precipitation::none; });
  refused([](ReactionPath& p) { p.start.fugacity_bar = {{"O2(g)", 0.2}}; });
  refused([](ReactionPath& p) { p.kind = PathKind::titrate; });
  refused([](ReactionPath& p) { p.kind = PathKind::dilute; });
  CHECK_THROWS_WITH(path_kind_from("boil"),
                    "kind = boil: accepted is titrate, aerate, dilute, dry, heat or change_bath");
}
