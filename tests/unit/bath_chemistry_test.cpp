#include "aeruca/bath_chemistry.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "aeruca/analysis.hpp"
#include "catch.hpp"
#include "lesser_dataset.hpp"
#include "uncertainty/combination.hpp"

using namespace aeruca;

namespace {

const BathMakeup kOnePercent{"sodium sesquicarbonate", 0.0442, 25};

}  // namespace

TEST_CASE("a sesquicarbonate bath has the pH that practice gives, and air takes it to another") {
  const auto fresh = bath_water(default_dataset(), kOnePercent, BathAir::shut_out);
  REQUIRE(fresh.status == Status::converged);
  CHECK(fresh.ph > 9.9);
  CHECK(fresh.ph < 10.1);
  const auto aged = bath_water(default_dataset(), kOnePercent, BathAir::open);
  REQUIRE(aged.status == Status::converged);
  const auto gas = std::find(aged.gases.begin(), aged.gases.end(), "CO2(g)") - aged.gases.begin();
  const double log10_bar = aged.log10_fugacity[static_cast<std::size_t>(gas)];
  CHECK(std::abs(log10_bar - std::log10(kAirCarbonDioxideBar)) < 1e-6);
  CHECK(aged.ph < fresh.ph);
}

TEST_CASE("hydroxide comes from the charge balance: 0.1 mol/kg of it is nearly pH 13") {
  const auto bath = bath_water(default_dataset(), {"sodium hydroxide", 0.1, 25}, BathAir::shut_out);
  REQUIRE(bath.status == Status::converged);
  CHECK(std::abs(bath.ph - 12.88) < 0.03);  // pKw 13.995 and gamma of OH(-) about 0.77
}

TEST_CASE(
    "copper over tenorite is what saturation with it allows, with a factor of its constants") {
  const auto dataset = default_dataset();
  const CopperOverSolid copper = copper_over(dataset, kOnePercent, "tenorite", BathAir::open);
  REQUIRE(copper.status == Status::converged);
  CHECK(copper.mg_per_l > 0.1);
  CHECK(copper.mg_per_l < 100);
  CHECK(copper.factor > 1.1);
  CHECK(copper.other_factor >= 1);
  CHECK(dataset->at(copper.main_form).components[dataset->component_index("Cu(2+)")] > 0);
  CHECK_FALSE(copper.figures.empty());
  // Twice the carbonate holds more copper(II) in solution, for its complexes carry it.
  const BathMakeup stronger{"sodium sesquicarbonate", 0.0884, 25};
  CHECK(copper_over(dataset, stronger, "tenorite", BathAir::open).mg_per_l > copper.mg_per_l);
}

TEST_CASE("without air copper(I) lies beside the metal, and less dissolves") {
  const auto dataset = default_dataset();
  const CopperOverSolid in_air = copper_over(dataset, kOnePercent, "tenorite", BathAir::open);
  const CopperOverSolid without = copper_over(dataset, kOnePercent, "cuprite", BathAir::shut_out);
  REQUIRE(without.status == Status::converged);
  CHECK(without.mg_per_l < in_air.mg_per_l);
  CHECK(to_string(without.air) == "shut out");
}

// Two standard uncertainties of log10 K of the dissolution: tenorite gives copper(II), cuprite two
// copper(I), and no metal has a part in it.
TEST_CASE("copper over a solid is known within two standard uncertainties of its dissolution") {
  const auto dataset = default_dataset();
  const auto factor = [&](const std::string& form, const std::string& solid, double count) {
    return std::pow(10, 2 * detail::stated_uncertainty(*dataset, {{form, 1}, {solid, -count}}, 25));
  };
  const CopperOverSolid two = copper_over(dataset, kOnePercent, "tenorite", BathAir::open);
  CHECK(std::abs(two.factor / factor(two.main_form, "tenorite", 1) - 1) < 1e-12);
  const CopperOverSolid one =
      copper_over(dataset, {"sodium hydroxide", 0.1, 25}, "cuprite", BathAir::shut_out);
  REQUIRE(dataset->at(one.main_form).components[dataset->component_index("e(-)")] == 1);
  CHECK(std::abs(one.factor / factor(one.main_form, "cuprite", 0.5) - 1) < 1e-12);
}

TEST_CASE("copper in a cold bath without a heat is estimated, with a wider range and by name") {
  const BathMakeup cold{"sodium hydroxide", 0.1, 5};
  const auto lesser = aeruca_test::dataset_without_an_enthalpy();
  const CopperOverSolid guess = copper_over(lesser, cold, "tenorite", BathAir::open);
  const CopperOverSolid ours = copper_over(default_dataset(), cold, "tenorite", BathAir::open);
  REQUIRE(guess.status == Status::converged);
  REQUIRE(guess.main_form == "Cu(OH)3(-)");
  const detail::Balance balance{{"Cu(OH)3(-)", 1}, {"tenorite", -1}};
  const double known = detail::stated_uncertainty(*default_dataset(), balance, 5);
  CHECK(guess.factor > 1.5 * std::pow(10, 2 * known));
  CHECK(std::abs(std::log(guess.mg_per_l / ours.mg_per_l)) < std::log(guess.factor));
  CHECK(std::find(guess.estimated_heats.begin(), guess.estimated_heats.end(), "Cu(OH)3(-)") !=
        guess.estimated_heats.end());
  CHECK(bath_water(lesser, cold, BathAir::shut_out).estimated_heats.empty());
}

TEST_CASE("the range of copper in a bath is that of its temperature, not of 25 degrees C") {
  const auto at = [](double celsius) {
    return copper_over(default_dataset(), {"sodium hydroxide", 0.1, celsius}, "tenorite",
                       BathAir::open);
  };
  const CopperOverSolid warm = at(45);
  CHECK(warm.factor > 1.05 * at(25).factor);
  const detail::Balance balance{{warm.main_form, 1}, {"tenorite", -1}};
  CHECK(std::abs(warm.factor /
                     std::pow(10, 2 * detail::stated_uncertainty(*default_dataset(), balance, 45)) -
                 1) < 1e-12);
}

TEST_CASE("copper over tenorite in a bath of hydroxide rises with temperature") {
  double before = 0;
  for (const double celsius : {5.0, 25.0, 40.0}) {
    const BathMakeup bath{"sodium hydroxide", 0.1, celsius};
    const auto copper = copper_over(default_dataset(), bath, "tenorite", BathAir::open);
    REQUIRE(copper.status == Status::converged);
    CHECK(copper.mg_per_l > before);
    before = copper.mg_per_l;
  }
}

TEST_CASE("a solid without copper is no solid that copper comes from") {
  CHECK_THROWS_AS(copper_over(default_dataset(), kOnePercent, "halite", BathAir::open), InputError);
  CHECK_THROWS_AS(copper_over(default_dataset(), kOnePercent, "no such", BathAir::open),
                  UnknownName);
}

// Water under the air conducts 1.1 uS/cm at 25 degrees C: Pratt, Koch, Wu and Berezansky 2001, Pure
// Appl. Chem. 73, 1783 (looked-up, two figures, of an air whose carbon dioxide is not printed).
TEST_CASE("deionised water open to air conducts what is published of it") {
  const BathMakeup water{"deionised water", 0, 25};
  const auto shut = bath_water(default_dataset(), water, BathAir::shut_out);
  REQUIRE(shut.status == Status::converged);
  CHECK(std::abs(conductivity_of(shut, *default_dataset()).us_per_cm - 0.055) < 0.001);
  const auto open = bath_water(default_dataset(), water, BathAir::open);
  REQUIRE(open.status == Status::converged);
  CHECK(std::abs(conductivity_of(open, *default_dataset()).us_per_cm - 1.1) < 0.15);
}

TEST_CASE("hydroxide open to air comes to the bicarbonate and carbonate of its sodium") {
  const auto aged = bath_water(default_dataset(), {"sodium hydroxide", 0.1, 25}, BathAir::open);
  REQUIRE(aged.status == Status::converged);
  const auto soda = bath_water(default_dataset(), {"sodium bicarbonate", 0.1, 25}, BathAir::open);
  CHECK(std::abs(aged.ph - soda.ph) < 1e-6);
}

TEST_CASE("a bath of no strength, or water of one, is refused") {
  const auto data = default_dataset();
  CHECK_THROWS_AS(bath_water(data, {"sodium carbonate", 0, 25}, BathAir::open), InputError);
  CHECK_THROWS_AS(bath_water(data, {"water", 0.1, 25}, BathAir::open), InputError);
}

// Conventional pH of 0.025 mol/kg NaHCO3 with as much Na2CO3 over temperature; 25 degrees C is
// looked-up (Staples and Bates 1969), the others are recalled. Ours is -log10 of the model's
// activity of H(+), 0.02 below throughout: the two conventions.
TEST_CASE("the carbonate buffer of the pH scale comes out from 5 to 50 degrees C") {
  const std::vector<std::pair<double, double>> published{
      {5, 10.245}, {15, 10.118}, {25, 10.012}, {35, 9.925}, {50, 9.828}};
  for (const auto& [celsius, ph] : published) {
    EquilibriumOptions options;
    options.temperature_c = celsius;
    options.acidity = Acidity::charge_balance;
    options.components = {"Na(+)", "CO3(2-)"};
    EquilibriumInput input;
    input.eh_v = 0.4;
    input.totals_mol_per_kg = {{"Na(+)", 0.075}, {"HCO3(-)", 0.025}, {"CO3(2-)", 0.025}};
    const auto buffer = Equilibrium(default_dataset(), options).solve(input);
    REQUIRE(buffer.status == Status::converged);
    CHECK(std::abs(buffer.ph - ph) < 0.03);
  }
}
