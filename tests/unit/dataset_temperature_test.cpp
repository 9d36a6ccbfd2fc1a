// Constants away from 25 degrees C: what is estimated, and how the uncertainty grows.

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/equilibrium.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/stability.hpp"
#include "catch.hpp"
#include "laboratory_water.hpp"
#include "lesser_dataset.hpp"
#include "uncertainty/combination.hpp"
#include "uncertainty/drawn_constants.hpp"

using namespace aeruca;
using aeruca::test::contains;
using Catch::Matchers::WithinAbs;

namespace {

bool holds(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

// kJ/mol of a unit of log10 K at 25 degrees C.
constexpr double kPerLog10 = kGasConstant * kReferenceTemperature * kLn10 / 1000;

}  // namespace

TEST_CASE("a constant at a temperature is the sum of its figures there, and its uncertainty too") {
  const auto dataset = default_dataset();
  for (const double celsius : {0.0, 25.0, 40.0}) {
    for (const Species& species : dataset->species) {
      INFO(species.name << " at " << celsius);
      double value = 0;
      double squares = 0;
      for (const auto& [id, coefficient] : Dataset::terms_at(species, celsius)) {
        const Figure& figure = dataset->figure(id);
        value += coefficient * figure.value;
        if (figure.uncertainty > 0) squares += std::pow(coefficient * figure.uncertainty, 2);
      }
      CHECK_THAT(dataset->log10_k(species, celsius), WithinAbs(value, 1e-9));
      CHECK_THAT(dataset->log10_k_uncertainty(species, celsius),
                 WithinAbs(std::sqrt(squares), 1e-9));
    }
  }
}

TEST_CASE("the uncertainty of a constant grows on both sides of 25 degrees C") {
  const auto dataset = default_dataset();
  for (const char* name : {"Cu(OH)2(aq)", "Cu(OH)4(2-)", "nantokite", "brochantite", "Cu(+)"}) {
    INFO(name);
    const Species& species = dataset->at(name);
    const auto at = [&](double celsius) { return dataset->log10_k_uncertainty(species, celsius); };
    CHECK(at(25) == species.log10_k_uncertainty);
    CHECK(at(20) > at(25));
    CHECK(at(5) > at(20));
    CHECK(at(35) > at(25));
    CHECK(at(50) > at(35));
  }
  // 15 kJ/mol of the estimated heat of Cu(OH)2(aq) are 0.20 at 50 degrees C.
  const double more =
      std::sqrt(std::pow(dataset->log10_k_uncertainty(dataset->at("Cu(OH)2(aq)"), 50), 2) -
                std::pow(dataset->at("Cu(OH)2(aq)").log10_k_uncertainty, 2));
  CHECK_THAT(more, WithinAbs(15 * Dataset::log10_k_per_kj(50), 0.02));
  CHECK_THROWS_AS(dataset->log10_k_uncertainty(dataset->at("OH(-)"), 51), InputError);
  CHECK(std::isnan(dataset->log10_k_uncertainty(dataset->at("OH(-)"), std::nan(""))));
}

TEST_CASE("a heat that nobody measured moves with the ionisation of water, never frozen") {
  const auto lesser = aeruca_test::dataset_without_an_enthalpy();
  const Species& trihydroxo = lesser->at("Cu(OH)3(-)");
  const Species& hydroxide = lesser->at("OH(-)");
  // Cu(2+) + 2 H2O + OH(-) = Cu(OH)3(-) + 2 H(+) less one ionisation: no entropy, no heat capacity.
  const double log10_k = trihydroxo.log10_k - hydroxide.log10_k;
  CHECK_THAT(trihydroxo.enthalpy_kj_per_mol,
             WithinAbs(hydroxide.enthalpy_kj_per_mol - kPerLog10 * log10_k, 1e-6));
  CHECK_THAT(trihydroxo.heat_capacity_j_per_mol_k,
             WithinAbs(hydroxide.heat_capacity_j_per_mol_k, 1e-9));
  CHECK_THAT(trihydroxo.enthalpy_kj_per_mol, WithinAbs(149.2, 30));  // by way of tenorite
  const Figure& rule = lesser->figure("H1C.enthalpy.rule");
  CHECK(rule.basis == Basis::estimated);
  CHECK(rule.uncertainty == 30);
  CHECK(holds(trihydroxo.figures, rule.id));
}

TEST_CASE("the heat capacity of water's ionisation is not lost where a reaction states none") {
  const auto dataset = default_dataset();
  const double water = dataset->at("OH(-)").heat_capacity_j_per_mol_k;
  CHECK_THAT(water, WithinAbs(-223.8, 1e-9));
  // brochantite = 4 Cu(2+) + 6 OH(-) + SO4(2-) makes eight charges of each sign, six with OH(-).
  CHECK_THAT(dataset->at("brochantite").heat_capacity_j_per_mol_k, WithinAbs(-2 * water, 1e-9));
  CHECK_THAT(dataset->at("Cu(OH)4(2-)").heat_capacity_j_per_mol_k, WithinAbs(2 * water, 1e-9));
  CHECK_THAT(dataset->at("CuOH(+)").heat_capacity_j_per_mol_k, WithinAbs(0, 1e-9));
  CHECK_THAT(dataset->at("H2(g)").heat_capacity_j_per_mol_k, WithinAbs(0, 0.01));
}

TEST_CASE("what rests on an estimated heat is told from what was measured") {
  const auto dataset = default_dataset();
  CHECK(dataset->rests_on_estimate(dataset->at("Cu(OH)3(-)"), 20));
  CHECK_FALSE(dataset->rests_on_estimate(dataset->at("Cu(OH)3(-)"), 25));
  CHECK_FALSE(dataset->rests_on_estimate(dataset->at("CuOH(+)"), 20));
  CHECK_FALSE(dataset->rests_on_estimate(dataset->at("CuCl2(-)"), 20));
  CHECK(dataset->unknown_at(10, "Cu(2+)").empty());
}

TEST_CASE("a result names what counts in it by an estimated heat, and refuse means refuse") {
  EquilibriumOptions options;
  options.components = {"Cu(2+)", "Na(+)"};
  options.temperature_c = 40;
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"Cu(2+)", 1e-6}, {"Na(+)", 0.1}};
  input.ph = 12.5;
  input.eh_v = 0.4;
  const Equilibrium warm(default_dataset(), options);
  CHECK(holds(warm.estimated_heats(), "Cu(OH)2(aq)"));
  CHECK_FALSE(holds(warm.estimated_heats(), "Cu2(OH)2(2+)"));
  const EquilibriumResult result = warm.solve(input);
  CHECK(holds(result.estimated_heats, "Cu(OH)3(-)"));
  CHECK_FALSE(holds(result.estimated_heats, "Cu(OH)2(-)"));  // no copper(I) to speak of
  options.temperature_c = 25;
  CHECK(Equilibrium(default_dataset(), options).solve(input).estimated_heats.empty());
  options.temperature_c = 40;
  options.missing_enthalpy = MissingEnthalpy::refuse;
  CHECK_THROWS_WITH(Equilibrium(default_dataset(), options), contains("Cu(OH)3(-)"));
  options.missing_enthalpy = MissingEnthalpy::leave_out;
  const Equilibrium measured(default_dataset(), options);
  CHECK_FALSE(holds(measured.species(), "Cu(OH)3(-)"));
  CHECK(holds(measured.species(), "CuOH(+)"));
  CHECK(measured.estimated_heats().empty());
}

TEST_CASE("the uncertainty of an index is that of its temperature, not of 25 degrees C") {
  using namespace aeruca::test;
  for (const double celsius : {5.0, 45.0}) {
    WaterAnalysis analysis = water({ion("copper", "1e-6 +/- 1e-9 mol/kg")}, 11);
    analysis.ph.uncertainty = 0;
    analysis.temperature_c = celsius;
    analysis.potential_mv = 500;
    analysis.potential_uncertainty_mv = 0;
    const SolvedWater answer = solved(analysis);
    detail::Balance balance{{"tenorite", 1}};  // the dissolved forms by their share of the copper
    for (const char* form : {"Cu(OH)2(aq)", "Cu(OH)3(-)", "Cu(OH)4(2-)", "CuOH(+)"})
      balance.emplace_back(form, -answer.result.molality_of(form) / 1e-6);
    const double expected = detail::stated_uncertainty(*data(), balance, celsius);
    CHECK(answer.index_uncertainty.at("tenorite") == Approx(expected).epsilon(0.01));
    CHECK(expected > 1.05 * detail::stated_uncertainty(*data(), balance, 25));
  }
}

TEST_CASE("draws at a temperature spread as far as a constant is uncertain there") {
  const auto dataset = default_dataset();
  for (const char* name : {"Cu(OH)4(2-)", "brochantite", "brucite"}) {
    INFO(name);
    const std::size_t species = dataset->index(name);
    const detail::DrawnConstants drawn(*dataset, std::vector<std::size_t>{species}, 45);
    std::vector<double> off(drawn.figures().size(), 0);
    std::vector<double> changes;
    double squares = 0;
    for (std::size_t f = 0; f < off.size(); ++f) {
      off[f] = drawn.figures()[f].uncertainty;
      drawn.changes(off, changes);
      squares += changes[species] * changes[species];
      off[f] = 0;
    }
    const Species& one = dataset->species[species];
    CHECK_THAT(std::sqrt(squares), WithinAbs(dataset->log10_k_uncertainty(one, 45), 1e-9));
    CHECK(std::sqrt(squares) > one.log10_k_uncertainty);
  }
}

TEST_CASE("edges and points of fields carry the uncertainty of their temperature") {
  const auto at = [](double celsius) {
    FieldOptions options;
    options.temperature_c = celsius;
    options.only = {"tenorite", "Cu(OH)4(2-)"};
    options.eh_v = 0.4;
    options.y = {AxisQuantity::log10_copper, "", -8, -2};
    const FieldDiagram diagram = field_diagram(default_dataset(), options);
    REQUIRE(diagram.edges.size() == 1);
    return std::pair{diagram.edges.front().log10_k_uncertainty, diagram.estimated_heats};
  };
  CHECK(at(45).first > 1.1 * at(25).first);
  CHECK(at(5).first > 1.1 * at(25).first);
  CHECK(at(45).second == std::vector<std::string>{"Cu(OH)4(2-)"});
  CHECK(at(25).second.empty());
}
