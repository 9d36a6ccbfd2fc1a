// Weak acids and bases of the ions, and ions whose acid nobody knows.

#include <cmath>
#include <memory>
#include <string>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"
#include "lesser_dataset.hpp"

using namespace aeruca;

// It came out at pH 1.42 while acetic acid had no constant.
TEST_CASE("acetate with half as much strong acid holds pH 4.65, ammonium with base 9.3") {
  EquilibriumOptions options;
  options.acidity = Acidity::charge_balance;
  const Equilibrium system(default_dataset(), options);
  EquilibriumInput input;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = {{"Na(+)", 0.1}, {"CH3COO(-)", 0.1}, {"Cl(-)", 0.05}};
  CHECK(std::abs(system.solve(input).ph - 4.65) < 0.02);
  input.totals_mol_per_kg = {{"Na(+)", 0.05}, {"NH4(+)", 0.1}, {"Cl(-)", 0.1}};
  CHECK(std::abs(system.solve(input).ph - 9.35) < 0.05);
}

namespace {

// Acetic and formic acid are named and have no constants, as all acids of ions once.
std::shared_ptr<const Dataset> without_organic_acids() {
  std::string records;
  for (const char* acid : {"CH3COOH(aq)", "HCOOH(aq)"}) {
    records += "[[species]]\nname = \"" + std::string(acid) +
               "\"\ntitle = \"acid without a constant\"\nconstant_from = \"none\"\n";
  }
  return aeruca_test::dataset_with(records);
}

}  // namespace

TEST_CASE("an ion whose acid or base has no constant is refused unless it is said to be inert") {
  EquilibriumOptions options;
  options.acidity = Acidity::charge_balance;
  EquilibriumInput input;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = {{"Na(+)", 0.1}, {"CH3COO(-)", 0.1}, {"Cl(-)", 0.05}};
  const auto lesser = without_organic_acids();
  CHECK_THROWS_WITH(Equilibrium(lesser, options).solve(input),
                    aeruca::test::contains("total of CH3COO(-) = 0.1: accepted is 0, because "
                                           "CH3COOH(aq) has no constant"));
  input.totals_mol_per_kg = {{"HCOO(-)", 0.1}, {"Na(+)", 0.1}};
  CHECK_THROWS_WITH(Equilibrium(lesser, options).solve(input),
                    aeruca::test::contains("total of HCOO(-)"));
  options.inert = {"HCOO(-)"};
  const auto water = Equilibrium(lesser, options).solve(input);
  CHECK(water.status == Status::converged);
  REQUIRE_FALSE(water.warnings.empty());
  CHECK_THAT(water.warnings.front(), aeruca::test::contains("HCOO(-) is counted as an ion only"));
  options.inert = {"Na(+)"};
  CHECK_THROWS_WITH(Equilibrium(lesser, options),
                    aeruca::test::contains("inert = Na(+): accepted is some of CH3COO(-)"));
}
