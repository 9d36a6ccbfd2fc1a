// Waters side by side in a batch each keep what their own row holds: gases, temperature, water
// activity. Neighbours here hold very different ones, so that whatever is taken from a neighbour
// shows at once.

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

constexpr std::size_t kCount = 240;  // several groups of each temperature in the widest kernel
constexpr std::array<double, 3> kTemperatures = {5, 25, 45};

// Row after row another carbon dioxide, oxygen, temperature and water activity.
struct Waters {
  std::vector<std::string> ingredients{"Ca(2+)", "Cl(-)", "Na(+)"};
  std::vector<std::string> gases{"CO2(g)"};
  std::vector<double> totals, ph, oxygen_bar, carbon_bar, temperature_c, water_activity;

  Waters() {
    for (std::size_t r = 0; r < kCount; ++r) {
      const auto x = static_cast<double>(r);
      const double salt = 0.2 + 0.1 * static_cast<double>(r % 7);
      for (const double amount : {0.01, salt + 0.02, salt}) totals.push_back(amount);
      ph.push_back(5.5 + 0.3 * static_cast<double>(r % 11));
      oxygen_bar.push_back(r % 2 == 0 ? 0.2 : 1e-5 * (1 + x / kCount));
      carbon_bar.push_back(r % 2 == 0 ? 1e-4 : 0.1 * (1 + x / kCount));
      temperature_c.push_back(kTemperatures[(r / 2) % kTemperatures.size()]);
      water_activity.push_back(r % 3 == 0 ? 0.8 : 0.97);
    }
  }
  [[nodiscard]] EquilibriumRows rows(Solvent solvent, std::size_t first, std::size_t n) const {
    EquilibriumRows given;
    given.count = n;
    given.ingredients = ingredients;
    given.totals_mol_per_kg =
        std::span(totals).subspan(first * ingredients.size(), n * ingredients.size());
    given.ph = std::span(ph).subspan(first, n);
    given.oxygen_bar = std::span(oxygen_bar).subspan(first, n);
    given.temperature_c = std::span(temperature_c).subspan(first, n);
    given.gases = gases;
    given.fugacity_bar = std::span(carbon_bar).subspan(first, n);
    if (solvent == Solvent::water_activity)
      given.water_activity = std::span(water_activity).subspan(first, n);
    return given;
  }
  [[nodiscard]] EquilibriumInput alone(Solvent solvent, std::size_t r) const {
    EquilibriumInput input;
    for (std::size_t c = 0; c < ingredients.size(); ++c)
      input.totals_mol_per_kg[ingredients[c]] = totals[r * ingredients.size() + c];
    input.ph = ph[r];
    input.oxygen_bar = oxygen_bar[r];
    input.fugacity_bar["CO2(g)"] = carbon_bar[r];
    if (solvent == Solvent::water_activity) input.water_activity = water_activity[r];
    return input;
  }
};

Equilibrium system_at(double temperature_c, Solvent solvent) {
  EquilibriumOptions options;
  options.components = {"Ca(2+)", "Cl(-)", "Na(+)", "CO3(2-)"};
  options.redox = Redox::oxygen;
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {"calcite"};
  options.temperature_c = temperature_c;
  options.solvent = solvent;
  options.threads = 1;
  return {default_dataset(), options};
}

bool near(double a, double b, double within) {
  return a == b || std::abs(a - b) <= within;
}

void check_row(const EquilibriumBatch& batch, std::size_t r, const EquilibriumResult& one) {
  REQUIRE(one.status == Status::converged);
  REQUIRE(batch.certified[r] == 1);
  REQUIRE(batch.species == one.species);
  const std::size_t n = one.species.size();
  for (std::size_t i = 0; i < n; ++i)
    CHECK(near(batch.log10_molality[r * n + i], one.log10_molality[i], 1e-10));
  for (std::size_t g = 0; g < one.gases.size(); ++g)
    CHECK(near(batch.log10_fugacity[r * one.gases.size() + g], one.log10_fugacity[g], 1e-10));
  const std::size_t solids = one.solid_mol_per_kg.size();
  for (std::size_t k = 0; k < solids; ++k)
    CHECK(near(batch.solid_mol_per_kg[r * solids + k], one.solid_mol_per_kg[k], 1e-12));
  CHECK(near(batch.eh_v[r], one.eh_v, 1e-11));
  CHECK(near(batch.water_activity[r], one.water_activity, 1e-11));
  CHECK(near(batch.solvent_kg[r], one.solvent_kg, 1e-9));
}

}  // namespace

TEST_CASE("neighbours in lanes keep gases, temperature and water activity of their own rows") {
  const auto solvent = GENERATE(Solvent::one_kg, Solvent::water_activity);
  const Waters waters;
  const auto batch = system_at(25, solvent).solve_many(waters.rows(solvent, 0, kCount));
  std::size_t formed = 0;
  for (const double t : kTemperatures) {
    const Equilibrium there = system_at(t, solvent);
    for (std::size_t r = 0; r < kCount; ++r) {
      if (waters.temperature_c[r] != t) continue;
      INFO(to_string(solvent) << ", row " << r << " at " << t);
      check_row(batch, r, there.solve(waters.alone(solvent, r)));
      formed += batch.solid_mol_per_kg[r] > 0 ? 1 : 0;
    }
  }
  CHECK(formed > kCount / 10);  // with calcite and without it
  CHECK(formed < kCount - kCount / 10);
}

TEST_CASE("a row with its own gases is the same to the last bit without its neighbours") {
  const Waters waters;
  const Equilibrium system = system_at(25, Solvent::one_kg);
  const auto batch = system.solve_many(waters.rows(Solvent::one_kg, 0, kCount));
  const std::size_t n = system.species().size();
  for (std::size_t r = 0; r < kCount; ++r) {
    const auto one = system.solve_many(waters.rows(Solvent::one_kg, r, 1));
    INFO("row " << r);
    CHECK(std::equal(one.log10_molality.begin(), one.log10_molality.end(),
                     batch.log10_molality.begin() + static_cast<std::ptrdiff_t>(r * n)));
    CHECK(one.solid_mol_per_kg[0] == batch.solid_mol_per_kg[r]);
    CHECK(one.eh_v[0] == batch.eh_v[r]);
  }
}

TEST_CASE("a trace of copper(II) in moles of copper(I) is the same in lanes as alone") {
  EquilibriumOptions options;
  options.activity = ActivityModel::ideal;
  options.redox = Redox::conserved;
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {"cuprite", "nantokite"};
  const Equilibrium system(default_dataset(), options);
  EquilibriumRows rows;
  rows.count = 32;
  const std::vector<std::string> ions{"Cl(-)", "Cu(+)", "Cu(2+)", "Na(+)"};
  rows.ingredients = ions;
  std::vector<double> totals, ph;
  for (std::size_t r = 0; r < rows.count; ++r) {
    const double scale = 0.5 + 0.05 * static_cast<double>(r);
    for (const double total : {3 / scale, scale, 1e-9 * scale, 2.0}) totals.push_back(total);
    ph.push_back(5.7 + 0.02 * static_cast<double>(r));
  }
  rows.totals_mol_per_kg = totals;
  rows.ph = ph;
  const auto batch = system.solve_many(rows);
  for (std::size_t r = 0; r < rows.count; ++r) {
    EquilibriumInput input;
    for (std::size_t c = 0; c < 4; ++c) input.totals_mol_per_kg[ions[c]] = totals[r * 4 + c];
    input.ph = ph[r];
    INFO("row " << r);
    check_row(batch, r, system.solve(input));
  }
}
