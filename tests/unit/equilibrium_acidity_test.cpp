// The pH that makes a water neutral: alone and in lanes.

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

struct Waters {
  std::vector<std::string> ingredients{"Cu(2+)", "Cl(-)", "Na(+)", "CO3(2-)", "SO4(2-)"};
  std::vector<double> totals, redox;
  bool oxygen;
  std::size_t count;

  Waters(std::size_t n, bool by_oxygen) : oxygen(by_oxygen), count(n) {
    std::mt19937_64 random(9);
    const auto between = [&](double a, double b) {
      return std::uniform_real_distribution<>(a, b)(random);
    };
    for (std::size_t r = 0; r < n; ++r) {
      for (std::size_t c = 0; c < ingredients.size(); ++c) {
        const double amount = std::pow(10, c == 0 ? between(-6, -2) : between(-4, -0.3));
        totals.push_back(c > 2 && random() % 4 == 0 ? 0 : amount);
      }
      redox.push_back(oxygen ? std::pow(10, between(-6, 0)) : between(-0.3, 0.7));
    }
  }
  [[nodiscard]] EquilibriumRows rows(std::size_t first, std::size_t n) const {
    const std::size_t k = ingredients.size();
    EquilibriumRows given{n, ingredients, std::span(totals).subspan(first * k, n * k)};
    (oxygen ? given.oxygen_bar : given.eh_v) = std::span(redox).subspan(first, n);
    return given;
  }
  [[nodiscard]] EquilibriumInput alone(std::size_t r) const {
    EquilibriumInput input;
    (oxygen ? input.oxygen_bar : input.eh_v) = redox[r];
    for (std::size_t c = 0; c < ingredients.size(); ++c)
      input.totals_mol_per_kg[ingredients[c]] = totals[r * ingredients.size() + c];
    return input;
  }
};

double largest_gap(const std::vector<double>& a, const double* b) {
  double worst = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i] != b[i]) worst = std::max(worst, std::abs(a[i] - b[i]));
  }
  return worst;
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

TEST_CASE("the pH from the charge in lanes is that of the water alone") {
  const auto redox = GENERATE(Redox::eh, Redox::oxygen);
  const auto model = GENERATE(ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit);
  const Waters waters(600, redox == Redox::oxygen);
  auto options = neutral(model, redox, waters.ingredients);
  options.precipitation = Precipitation::allowed;
  const Equilibrium system(default_dataset(), options);
  const auto batch = system.solve_many(waters.rows(0, waters.count));
  const std::size_t n = system.species().size();
  double worst = 0;
  std::size_t formed = 0;
  for (std::size_t r = 0; r < waters.count; ++r) {
    const auto one = system.solve(waters.alone(r));
    REQUIRE((one.status == Status::converged) == (batch.certified[r] == 1));
    if (one.status != Status::converged) continue;
    worst = std::max(worst, largest_gap(one.log10_molality, batch.log10_molality.data() + r * n));
    CHECK(std::abs(batch.eh_v[r] - one.eh_v) < 1e-12);
    formed += one.formed().size();
  }
  INFO(to_string(redox) << ", " << to_string(model) << ", worst " << worst);
  CHECK(worst < 1e-10);
  CHECK(formed > waters.count / 4);
}

TEST_CASE("neither grouping nor neighbours show in a pH from the charge, to the last bit") {
  const auto redox = GENERATE(Redox::eh, Redox::oxygen);
  const Waters waters(1200, redox == Redox::oxygen);
  auto options = neutral(ActivityModel::sit, redox, waters.ingredients);
  options.precipitation = Precipitation::allowed;
  const Equilibrium system(default_dataset(), options);
  const auto whole = system.solve_many(waters.rows(0, waters.count));
  const std::size_t n = system.species().size();
  std::size_t differ = 0;
  for (std::size_t first = 0, k = 0; first < waters.count; ++k) {
    const std::size_t count = std::min<std::size_t>(1 + k % 5, waters.count - first);
    const auto part = system.solve_many(waters.rows(first, count));
    differ += largest_gap(part.log10_molality, whole.log10_molality.data() + first * n) != 0;
    first += count;
  }
  CHECK(differ == 0);
}
