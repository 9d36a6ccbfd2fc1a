// How far the readings of an analysis and the constants are known, in a saturation index.

#include <cmath>

#include "catch.hpp"
#include "laboratory_water.hpp"
#include "uncertainty/combination.hpp"

using namespace aeruca;
using namespace aeruca::test;

TEST_CASE("readings carry their uncertainty to an index in quadrature") {
  WaterAnalysis analysis = water({ion("copper", "1 +/- 0.1 mg/L")}, 5.5);
  analysis.ph.uncertainty = 0.1;
  analysis.potential_mv = 500;
  const SolvedWater answer = solved(analysis);
  const auto& uncertainty = answer.index_uncertainty;
  // Tenorite: index = log a(Cu) + 2 pH + const; most copper is Cu(2+), so 2 x 0.1 and log10 1.1.
  const double copper =
      answer.result.molality_of("Cu(2+)") / answer.water.input.totals_mol_per_kg.at("Cu(2+)");
  REQUIRE(copper > 0.95);
  const double constant = data()->at("tenorite").log10_k_uncertainty;
  CHECK(uncertainty.at("tenorite") ==
        Approx(std::hypot(constant, std::hypot(0.2, std::log10(1.1)))).epsilon(0.05));
  const WaterAnalysis exact = water({ion("copper", "1e-5 mol/kg")}, 5.5);
  CHECK(solved(exact).index_uncertainty.empty());  // weighed in, not measured
}

TEST_CASE("a laboratory's reading without an uncertainty has one of 5 percent, its pH of 0.1") {
  WaterAnalysis analysis = water({ion("copper", "1 mg/L")}, 5.5);
  analysis.potential_mv = 500;
  const SolvedWater answer = solved(analysis);
  REQUIRE(answer.result.molality_of("Cu(2+)") >
          0.95 * answer.water.input.totals_mol_per_kg.at("Cu(2+)"));
  const double constant = data()->at("tenorite").log10_k_uncertainty;
  CHECK(answer.index_uncertainty.at("tenorite") ==
        Approx(std::hypot(constant, 0.2, std::log10(1.05))).epsilon(0.01));
  const WaterAnalysis weighed = water({ion("copper", "1e-5 +/- 1e-6 mol/kg")}, 5.5);
  CHECK(solved(weighed).index_uncertainty.at("tenorite") ==
        Approx(std::hypot(constant, 0.2, std::log10(1.1))).epsilon(0.05));
  WaterAnalysis much = water({ion("copper", "100 mg/L")}, 4);
  much.ph.uncertainty = 0;
  const double by_copper = solved(much).index_uncertainty.at("tenorite");
  CHECK(by_copper == Approx(std::hypot(constant, std::log10(1.05))).epsilon(0.01));
}

TEST_CASE(
    "what a solid and the dissolved complexes owe to one figure is counted once in an index") {
  WaterAnalysis analysis = water(
      {ion("copper", "1e-5 mol/kg"), ion("sodium", "0.5 mol/kg"), ion("chloride", "0.5 mol/kg")},
      6);
  analysis.ph.uncertainty = 0;  // read exactly: what is left is that of the constants
  analysis.potential_mv = 200;
  analysis.potential_uncertainty_mv = 0;
  const SolvedWater answer = solved(analysis, ActivityModel::sit);
  const EquilibriumResult& result = answer.result;
  // Copper is the one scarce ingredient: of its constants each counts by its share of the copper.
  detail::Balance balance{{"nantokite", 1}};
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const Species& species = data()->at(result.species[i]);
    const double copper = species.components[data()->component_index("Cu(2+)")];
    if (copper > 0) balance.emplace_back(species.name, -result.molality[i] * copper / 1e-5);
  }
  CHECK(result.molality_of("CuCl2(-)") > 0.5e-5);  // copper(I) complexes lead
  const double expected = detail::stated_uncertainty(*data(), balance, 25);
  CHECK(answer.index_uncertainty.at("nantokite") == Approx(expected).epsilon(0.02));
  CHECK(expected < 0.8 * data()->at("nantokite").log10_k_uncertainty);  // a figure cancels
  balance.front().first = "tenorite";  // copper(II) against copper(I): the complexes add
  const double tenorite = detail::stated_uncertainty(*data(), balance, 25);
  CHECK(answer.index_uncertainty.at("tenorite") == Approx(tenorite).epsilon(0.02));
}
