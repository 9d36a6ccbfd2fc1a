// Many waters at once, against each of them alone: indices, gases and temperatures by row, and the
// choice of columns.

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "aeruca/not_given.hpp"
#include "catch.hpp"
#include "lesser_dataset.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

// Waters of some components in air of changing carbon dioxide, warm and cold.
struct Waters {
  std::vector<std::string> ingredients{"Ca(2+)", "Cl(-)", "Na(+)", "SO4(2-)"};
  std::vector<std::string> gases{"CO2(g)"};
  std::vector<double> totals, ph, eh_v, bar, temperature_c;
  std::size_t count;

  explicit Waters(std::size_t n) : count(n) {
    std::mt19937_64 random(5);
    const auto between = [&](double a, double b) {
      return std::uniform_real_distribution<>(a, b)(random);
    };
    for (std::size_t r = 0; r < n; ++r) {
      for (std::size_t c = 0; c < ingredients.size(); ++c)
        totals.push_back(random() % 5 == 0 ? 0 : std::pow(10, between(-4, -1)));
      ph.push_back(between(4, 8));
      eh_v.push_back(between(0, 0.6));
      bar.push_back(std::pow(10, between(-4, -1)));
      temperature_c.push_back(5.0 * static_cast<double>(random() % 8));
    }
  }
  [[nodiscard]] EquilibriumRows rows() const {
    EquilibriumRows all{count, ingredients, totals, ph, eh_v};
    all.gases = gases;
    all.fugacity_bar = bar;
    return all;
  }
  [[nodiscard]] EquilibriumInput one(std::size_t r) const {
    EquilibriumInput input;
    for (std::size_t c = 0; c < ingredients.size(); ++c)
      input.totals_mol_per_kg[ingredients[c]] = totals[r * ingredients.size() + c];
    input.ph = ph[r];
    input.eh_v = eh_v[r];
    input.fugacity_bar["CO2(g)"] = bar[r];
    return input;
  }
};

EquilibriumOptions options_of(double temperature_c = 25, int threads = 1) {
  EquilibriumOptions options;
  options.components = {"Ca(2+)", "Cl(-)", "Na(+)", "SO4(2-)", "CO3(2-)"};
  options.precipitation = Precipitation::allowed;
  options.temperature_c = temperature_c;
  options.threads = threads;
  options.missing_enthalpy = MissingEnthalpy::leave_out;
  return options;
}

bool same(double a, double b, double within) {
  return a == b || (std::isnan(a) && std::isnan(b)) || std::abs(a - b) <= within;
}

// Largest difference of one row of a batch from the same water alone, in each column.
void check_row(const EquilibriumBatch& batch, std::size_t r, const EquilibriumResult& one) {
  REQUIRE((one.status == Status::converged) == (batch.certified[r] == 1));
  for (std::size_t i = 0; i < one.species.size(); ++i) {
    const auto at = std::find(batch.species.begin(), batch.species.end(), one.species[i]);
    REQUIRE(at != batch.species.end());
    const auto column = static_cast<std::size_t>(at - batch.species.begin());
    CHECK(same(batch.log10_molality[r * batch.species.size() + column], one.log10_molality[i],
               1e-10));
  }
  const std::size_t solids = batch.indexed_solids.size();
  for (std::size_t s = 0; s < solids; ++s) {
    const auto found = one.saturation_index.find(batch.indexed_solids[s]);
    const double index = batch.saturation_index[r * solids + s];
    if (found == one.saturation_index.end()) {
      CHECK_FALSE(std::isfinite(index));
    } else {
      CHECK(same(index, found->second, 1e-9));
    }
  }
  for (std::size_t g = 0; g < one.gases.size(); ++g) {
    const auto at = std::find(batch.gases.begin(), batch.gases.end(), one.gases[g]);
    const auto column = static_cast<std::size_t>(at - batch.gases.begin());
    CHECK(same(batch.log10_fugacity[r * batch.gases.size() + column], one.log10_fugacity[g], 1e-9));
  }
  double most = 0;
  std::string leading;
  for (const auto& [solid, moles] : one.formed()) {
    if (moles > most) leading = solid;
    most = std::max(most, moles);
  }
  CHECK((batch.leading_solid[r] < 0) == leading.empty());
  if (!leading.empty())
    CHECK(batch.allowed_solids[static_cast<std::size_t>(batch.leading_solid[r])] == leading);
  CHECK((batch.degenerate[r] == 1) == !one.degenerate.empty());
  CHECK(batch.solvent_kg[r] == 1);
}

}  // namespace

TEST_CASE("indices, gases and the leading solid of a row are those of the water alone") {
  const Waters waters(400);
  const Equilibrium system(default_dataset(), options_of());
  const auto batch = system.solve_many(waters.rows());
  CHECK(batch.indexed_solids.size() >= batch.allowed_solids.size());
  std::size_t held = 0;
  for (std::size_t r = 0; r < waters.count; ++r) {
    INFO("row " << r);
    check_row(batch, r, system.solve(waters.one(r)));
    const auto carbon = static_cast<std::size_t>(
        std::find(batch.gases.begin(), batch.gases.end(), "CO2(g)") - batch.gases.begin());
    if (batch.certified[r] == 0) continue;
    // Each row holds its own gas.
    CHECK(std::abs(batch.log10_fugacity[r * batch.gases.size() + carbon] -
                   std::log10(waters.bar[r])) < 1e-10);
    ++held;
  }
  CHECK(held > 350);
}

TEST_CASE("a row at its own temperature is the water of a system at that temperature") {
  const Waters waters(160);
  const Equilibrium system(default_dataset(), options_of());
  EquilibriumRows rows = waters.rows();
  rows.temperature_c = waters.temperature_c;
  const auto batch = system.solve_many(rows);
  for (std::size_t r = 0; r < waters.count; ++r) {
    INFO("row " << r << " at " << waters.temperature_c[r]);
    const Equilibrium there(default_dataset(), options_of(waters.temperature_c[r]));
    check_row(batch, r, there.solve(waters.one(r)));
  }
}

TEST_CASE("neither order nor threads show in rows of many temperatures, to the last bit") {
  const Waters waters(3000);
  EquilibriumRows rows = waters.rows();
  rows.temperature_c = waters.temperature_c;
  const auto one = Equilibrium(default_dataset(), options_of(25, 1)).solve_many(rows);
  const auto three = Equilibrium(default_dataset(), options_of(25, 3)).solve_many(rows);
  CHECK(one.ph == three.ph);
  CHECK(one.ionic_strength == three.ionic_strength);
  CHECK(one.status == three.status);
  CHECK(std::equal(one.log10_molality.begin(), one.log10_molality.end(),
                   three.log10_molality.begin(), [](double a, double b) { return same(a, b, 0); }));
  Waters back = waters;
  const std::size_t k = waters.ingredients.size();
  for (std::size_t r = 0; r < waters.count; ++r) {
    const std::size_t from = waters.count - 1 - r;
    std::copy_n(waters.totals.begin() + static_cast<std::ptrdiff_t>(from * k), k,
                back.totals.begin() + static_cast<std::ptrdiff_t>(r * k));
    back.ph[r] = waters.ph[from];
    back.eh_v[r] = waters.eh_v[from];
    back.bar[r] = waters.bar[from];
    back.temperature_c[r] = waters.temperature_c[from];
  }
  EquilibriumRows turned = back.rows();
  turned.temperature_c = back.temperature_c;
  const auto other = Equilibrium(default_dataset(), options_of(25, 1)).solve_many(turned);
  for (std::size_t r = 0; r < waters.count; ++r)
    CHECK(same(one.ionic_strength[r], other.ionic_strength[waters.count - 1 - r], 0));
}

// pKw of IAPWS R11-07, printed with two or three decimals.
TEST_CASE("neutral water by row has the pH of pure water at each temperature") {
  EquilibriumOptions options;
  options.acidity = Acidity::charge_balance;
  options.components = {"Na(+)"};
  const std::vector<std::string> ingredients{"Na(+)"};
  const std::vector<double> totals{0, 0, 0, 0};
  const std::vector<double> eh{0.4, 0.4, 0.4, 0.4};
  const std::vector<double> temperature_c{50, 0, kNotGiven, 25};
  EquilibriumRows rows{4, ingredients, totals, {}, eh};
  rows.temperature_c = temperature_c;
  const auto batch = Equilibrium(default_dataset(), options).solve_many(rows);
  CHECK(std::abs(batch.ph[0] - 13.27 / 2) < 0.01);
  CHECK(std::abs(batch.ph[1] - 14.95 / 2) < 0.01);
  CHECK(std::isnan(batch.ph[2]));
  CHECK(batch.certified[2] == 0);
  CHECK(std::abs(batch.ph[3] - 13.995 / 2) < 0.001);
}

TEST_CASE(
    "a constant not measured at the temperature of a row is NaN there, or refused, if asked") {
  EquilibriumOptions options;
  options.components = {"Cu(2+)", "Cl(-)"};
  options.precipitation = Precipitation::allowed;
  options.missing_enthalpy = MissingEnthalpy::leave_out;
  const std::vector<std::string> ingredients{"Cu(2+)", "Cl(-)"};
  const std::vector<double> totals{1e-3, 0.1, 1e-3, 0.1};
  const std::vector<double> ph{5, 5}, eh{0.4, 0.4}, temperature_c{25, 10};
  EquilibriumRows rows{2, ingredients, totals, ph, eh};
  rows.temperature_c = temperature_c;
  const auto lesser = aeruca_test::dataset_without_an_enthalpy();
  const Equilibrium system(lesser, options);
  const auto batch = system.solve_many(rows);
  std::size_t missing = 0;
  for (std::size_t i = 0; i < batch.species.size(); ++i) {
    if (!lesser->rests_on_estimate(lesser->at(batch.species[i]), 10)) continue;
    CHECK_FALSE(std::isnan(batch.log10_molality[i]));
    CHECK(std::isnan(batch.log10_molality[batch.species.size() + i]));
    ++missing;
  }
  CHECK(missing > 0);
  options.missing_enthalpy = MissingEnthalpy::refuse;
  CHECK_THROWS_WITH(Equilibrium(lesser, options).solve_many(rows),
                    contains("temperature_c of water 1 = 10: accepted is 25 degrees C, because"));
  const std::vector<double> hot{25, 60};
  rows.temperature_c = hot;
  CHECK_THROWS_WITH(system.solve_many(rows), contains("temperature_c of water 1 = 60: accepted is "
                                                      "0 to 50"));
}

TEST_CASE("of a batch only the columns that are asked for are there, with the same figures") {
  const Waters waters(200);
  const Equilibrium system(default_dataset(), options_of());
  const auto whole = system.solve_many(waters.rows());
  BatchChoice choice;
  choice.columns = {BatchColumn::leading_solid, BatchColumn::log10_molality,
                    BatchColumn::saturation_index};
  choice.species = {"Ca(2+)"};
  choice.solids = {"gypsum", "calcite"};
  const auto part = system.solve_many(waters.rows(), choice);
  CHECK(part.species == choice.species);
  CHECK(part.indexed_solids == choice.solids);
  CHECK(part.leading_solid == whole.leading_solid);
  CHECK(part.certified == whole.certified);
  CHECK(part.solid_mol_per_kg.empty());
  CHECK(part.ph.empty());
  CHECK(part.degenerate.empty());
  const auto column = [](const std::vector<std::string>& names, const std::string& name) {
    return static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
  };
  for (std::size_t r = 0; r < waters.count; ++r) {
    CHECK(same(part.log10_molality[r],
               whole.log10_molality[r * whole.species.size() + column(whole.species, "Ca(2+)")],
               0));
    CHECK(same(part.saturation_index[2 * r + 1],
               whole.saturation_index[r * whole.indexed_solids.size() +
                                      column(whole.indexed_solids, "calcite")],
               0));
  }
}

TEST_CASE("a choice of columns that would have no effect is refused by name") {
  const Waters waters(1);
  const Equilibrium system(default_dataset(), options_of());
  const auto with = [&](BatchChoice choice) { return system.solve_many(waters.rows(), choice); };
  CHECK_THROWS_WITH(with({{BatchColumn::ph}, {"Ca(2+)"}, {}, {}}),
                    contains("species = Ca(2+): accepted is names only where the columns have "
                             "log10_molality"));
  CHECK_THROWS_WITH(with({{BatchColumn::ph}, {}, {}, {"CO2(g)"}}), contains("log10_fugacity"));
  CHECK_THROWS_WITH(with({{}, {"Ca(2)"}, {}, {}}), contains("nearest is 'Ca(2+)'"));
  CHECK_THROWS_WITH(with({{}, {}, {"gipsum"}, {}}), contains("nearest is 'gypsum'"));
  EquilibriumOptions few = options_of();
  few.allowed_solids = {"calcite"};
  CHECK_THROWS_WITH(
      Equilibrium(default_dataset(), few)
          .solve_many(waters.rows(), {{BatchColumn::solid_mol_per_kg}, {}, {"gypsum"}, {}}),
      contains("no allowed solid named 'gypsum'"));
  CHECK_THROWS_WITH(batch_column_from("pH"), contains("columns = pH: accepted is some of "));
  CHECK(batch_column_from("solvent_kg") == BatchColumn::solvent_kg);
}

TEST_CASE("a gas of a row is checked as that of one water, naming the row") {
  Waters waters(3);
  const Equilibrium system(default_dataset(), options_of());
  waters.bar[2] = -1;
  CHECK_THROWS_WITH(system.solve_many(waters.rows()),
                    contains("fugacity_bar of CO2(g) of water 2 = -1"));
  waters.bar[2] = kNotGiven;
  CHECK(system.solve_many(waters.rows()).certified[2] == 0);
  waters.bar.pop_back();
  CHECK_THROWS_WITH(system.solve_many(waters.rows()), contains("fugacity_bar = 2: accepted is 3"));
  waters.gases = {"halite"};
  waters.bar.push_back(0.1);
  CHECK_THROWS_WITH(system.solve_many(waters.rows()), contains("names of gases"));
}

TEST_CASE("a batch that is asked to stop leaves the rest without an answer") {
  const Waters waters(2000);
  const Equilibrium system(default_dataset(), options_of());
  std::stop_source stop;
  stop.request_stop();
  const auto batch = system.solve_many(waters.rows(), {}, stop.get_token());
  CHECK(std::count(batch.certified.begin(), batch.certified.end(), 1) == 0);
  CHECK(batch.status[1999] == static_cast<int>(Status::iteration_limit));
}
