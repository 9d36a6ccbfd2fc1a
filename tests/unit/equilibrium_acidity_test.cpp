// The pH that makes a water neutral.

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

EquilibriumOptions neutral(ActivityModel activity, Redox redox,
                           std::vector<std::string> components) {
  EquilibriumOptions options;
  options.activity = activity;
  options.redox = redox;
  options.acidity = Acidity::charge_balance;
  options.components = std::move(components);
  options.threads = 1;
  return options;
}

}  // namespace

// 6 mol/kg on either side of the charge are known to 1e-15 only, 1e-8 of the H(+) sought.
TEST_CASE("a neutral salt does not drown the pH of its water") {
  const auto redox = GENERATE(Redox::eh, Redox::oxygen);
  const double salt = GENERATE(0.01, 1.0, 6.0);
  const Equilibrium system(default_dataset(),
                           neutral(ActivityModel::ideal, redox, {"Na(+)", "Cl(-)"}));
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"Na(+)", salt}, {"Cl(-)", salt}};
  (redox == Redox::eh ? input.eh_v : input.oxygen_bar) = 0.2;
  const auto one = system.solve(input);
  REQUIRE(one.status == Status::converged);
  const auto log_of = [&](const std::string& name) { return std::log10(one.molality_of(name)); };
  INFO(to_string(redox) << ", " << salt << " mol/kg");
  CHECK(std::abs(log_of("H(+)") - log_of("OH(-)")) < 1e-12);  // no other acid or base is there
  const std::vector<std::string> ingredients{"Na(+)", "Cl(-)"};
  const std::vector<double> totals{salt, salt}, held{0.2};
  EquilibriumRows rows{1, ingredients, totals};
  (redox == Redox::eh ? rows.eh_v : rows.oxygen_bar) = held;
  CHECK(std::abs(system.solve_many(rows).ph[0] - one.ph) < 1e-12);
}
