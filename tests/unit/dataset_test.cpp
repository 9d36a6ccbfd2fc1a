#include "aeruca/dataset.hpp"

#include <cmath>
#include <limits>

#include "aeruca/errors.hpp"
#include "catch.hpp"
#include "lesser_dataset.hpp"

using namespace aeruca;
using Catch::Matchers::WithinAbs;

namespace {

double atoms(const Composition& composition, const std::string& symbol) {
  for (const auto& [name, count] : composition.elements)
    if (name == symbol) return count;
  return 0;
}

}  // namespace

TEST_CASE("formulas are read with groups, hydrate water, phase and charge") {
  const Composition atacamite = parse_formula("Cu2(OH)3Cl");
  CHECK(atoms(atacamite, "Cu") == 2);
  CHECK(atoms(atacamite, "O") == 3);
  CHECK(atoms(atacamite, "H") == 3);
  CHECK(atacamite.charge == 0);
  const Composition hydrate = parse_formula("K2CO3.1.5H2O");
  CHECK(atoms(hydrate, "O") == 4.5);
  CHECK(atoms(hydrate, "H") == 3);
  CHECK(parse_formula("Cu(OH)4(2-)").charge == -2);
  CHECK(atoms(parse_formula("Cu(CO3)2(2-)"), "O") == 6);
  CHECK(parse_formula("CuCl2(-)").charge == -1);
  CHECK(parse_formula("Cu(+)").charge == 1);
  CHECK(parse_formula("e(-)").charge == -1);
  CHECK(parse_formula("e(-)").elements.empty());
  CHECK(atoms(parse_formula("Na2CO3.NaHCO3.2H2O"), "Na") == 3);
  CHECK(atoms(parse_formula("CuCl2\xC2\xB7"
                            "2H2O"),
              "H") == 4);
  CHECK(atoms(parse_formula("Cu(OH)2(aq)"), "O") == 2);
}

TEST_CASE("what is no formula is refused") {
  const std::string bad =
      GENERATE(as<std::string>{}, "", "copper", "Xx2", "Cu(OH", "CuOH)2", "2H2O", "Cu2.", "Cu(2*)",
               "CuCl2(-)x", "Cu0", "Cu99999", "Cu()2", "((((((((((Cu))))))))))");
  CHECK_THROWS_AS(parse_formula(bad), InputError);
}

TEST_CASE("a charge is one an ion can have") {
  CHECK(parse_formula("Cu(20+)").charge == 20);
  CHECK_THROWS_AS(parse_formula("Cu(21+)"), InputError);
  CHECK_THROWS_AS(parse_formula("Cu(100-)"), InputError);
}

TEST_CASE("molar masses follow the standard atomic weights") {
  CHECK_THAT(molar_mass_g_per_mol(parse_formula("NaCl")), WithinAbs(58.440, 1e-3));
  CHECK_THAT(molar_mass_g_per_mol(parse_formula("CuCl")), WithinAbs(98.996, 1e-3));
  CHECK_THROWS_AS(molar_mass_g_per_mol(Composition{{{"Qq", 1}}, 0}), InputError);
}

TEST_CASE("the built-in data set answers by name and says what is near") {
  const auto dataset = default_dataset();
  CHECK(dataset.get() == default_dataset().get());
  CHECK_THAT(dataset->at("copper").log10_k, WithinAbs(11.39, 1e-3));
  CHECK(dataset->at("nantokite").components[dataset->component_index("Cl(-)")] == 1);
  CHECK(dataset->salt("NaCl").solid == "halite");
  CHECK(dataset->onset_band("scott-1990").chosen);
  CHECK(dataset->content_hash.size() == 16);
  CHECK_THROWS_WITH(dataset->at("nantokit"), "no species named 'nantokit'; nearest is 'nantokite'");
  for (const char* name : {"claringbullite", "posnjakite", "chalconatronite", "CuCl4(2-)"}) {
    CHECK_THROWS_AS(dataset->at(name), InputError);
    CHECK_THROWS_WITH(dataset->at(name), aeruca::test::contains("one whose constant is known"));
  }
  CHECK_THROWS_AS(dataset->component_index("Cu"), UnknownName);
  CHECK_THROWS_AS(dataset->figure("R99"), UnknownName);
  CHECK_THROWS_AS(dataset->source("nobody1900"), UnknownName);
  CHECK_THROWS_AS(dataset->salt("sugar"), UnknownName);
  CHECK_THROWS_AS(dataset->onset_band("none"), UnknownName);
}

// Harvie, Moller and Weare 1984: ln K of dissolution 10.259 and -2.827 at 25 C; NBS tables: bischofite
// gives off 17.1 kJ/mol on dissolving, mirabilite takes up 79.5.
TEST_CASE("a salt is made with the constant and the heat of its dissolution turned round") {
  const auto dataset = default_dataset();
  CHECK_THAT(dataset->at("bischofite").log10_k, WithinAbs(-10.259 / std::log(10.0), 1e-9));
  CHECK_THAT(dataset->at("bischofite").enthalpy_kj_per_mol, WithinAbs(17.1, 0.05));
  CHECK_THAT(dataset->at("mirabilite").log10_k, WithinAbs(2.827 / std::log(10.0), 1e-9));
  CHECK_THAT(dataset->at("mirabilite").enthalpy_kj_per_mol, WithinAbs(-79.5, 0.05));
}

TEST_CASE("constants move with temperature by van 't Hoff and refuse what they do not know") {
  const auto dataset = default_dataset();
  const Species& hydroxide = dataset->at("OH(-)");
  CHECK(dataset->log10_k(hydroxide, 25) == hydroxide.log10_k);
  // IAPWS R11-07 table: 14.165 at 20 C, 13.264 at 50 C; the calorimetric enthalpy gives 0.01 more.
  CHECK_THAT(dataset->log10_k(hydroxide, 20), WithinAbs(-14.165, 0.005));
  CHECK_THAT(dataset->log10_k(hydroxide, 50), WithinAbs(-13.264, 0.02));
  CHECK(std::isnan(dataset->log10_k(hydroxide, std::numeric_limits<double>::quiet_NaN())));
  CHECK_THROWS_AS(dataset->log10_k(hydroxide, 60), InputError);
  const auto lesser = aeruca_test::dataset_without_ionisation_of_water();
  const Species& trihydroxo = lesser->at("Cu(OH)3(-)");
  CHECK_FALSE(Dataset::log10_k_known_at(trihydroxo, 20));
  CHECK(Dataset::log10_k_known_at(trihydroxo, 25));
  CHECK_THROWS_AS(lesser->log10_k(trihydroxo, 20), InputError);
  CHECK_THROWS_AS(lesser->log10_k_uncertainty(trihydroxo, 20), InputError);
  CHECK(Dataset::log10_k_known_at(dataset->at("Cu(OH)3(-)"), 20));
}
