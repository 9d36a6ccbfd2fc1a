// A few waters by one of the kernels whose instructions test_instructions.py counts.
//
//   bench_instructions KERNEL WATERS
//   bench_instructions --compiler

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"

namespace {

using namespace aeruca;

const std::vector<std::string> kCopper = {"Cu(2+)", "Cl(-)", "Na(+)", "CO3(2-)", "SO4(2-)"};
const std::map<std::string, double> kSea = {
    {"Na(+)", 0.4861}, {"K(+)", 0.0106},    {"Mg(2+)", 0.0547},  {"Ca(2+)", 0.01065},
    {"Cl(-)", 0.5658}, {"SO4(2-)", 0.0293}, {"CO3(2-)", 0.0023},
};

struct Rows {
  std::vector<std::string> ingredients;
  std::vector<double> totals, ph, eh_v;
};

double between(std::mt19937_64& random, double low, double high) {
  return low + (high - low) * (static_cast<double>(random() >> 11) * 0x1.0p-53);
}

Rows made(bool sea, std::size_t count) {
  std::mt19937_64 random(5);
  Rows rows;
  if (!sea) rows.ingredients = kCopper;
  for (const auto& [name, amount] : kSea) {
    if (sea) rows.ingredients.push_back(name);
  }
  for (std::size_t r = 0; r < count; ++r) {
    const double salt = between(random, 0.1, 3);
    for (const auto& name : rows.ingredients) {
      const double amount = sea ? kSea.at(name) * salt : 1e-4 * between(random, 1, 50);
      rows.totals.push_back(amount);
    }
    rows.ph.push_back(between(random, 5, 9));
    rows.eh_v.push_back(between(random, 0.1, 0.5));
  }
  return rows;
}

Equilibrium prepared(const std::string& kernel, const Rows& rows) {
  EquilibriumOptions options;
  options.components = rows.ingredients;
  options.threads = 1;
  if (kernel == "neutral") options.acidity = Acidity::charge_balance;
  options.activity = kernel == "sea" ? ActivityModel::pitzer : ActivityModel::sit;
  if (kernel == "solids" || kernel == "alone") options.precipitation = Precipitation::allowed;
  return Equilibrium(default_dataset(), options);
}

// One by one through the single solver.
bool each_alone(const Equilibrium& system, const Rows& rows) {
  const std::size_t width = rows.ingredients.size();
  bool good = true;
  for (std::size_t r = 0; r < rows.ph.size(); ++r) {
    EquilibriumInput input;
    input.ph = rows.ph[r];
    input.eh_v = rows.eh_v[r];
    for (std::size_t c = 0; c < width; ++c)
      input.totals_mol_per_kg[rows.ingredients[c]] = rows.totals[r * width + c];
    good = good && system.solve(input).status == Status::converged;
  }
  return good;
}

bool together(const Equilibrium& system, const Rows& rows) {
  EquilibriumRows given{rows.ph.size(), rows.ingredients, rows.totals, rows.ph, rows.eh_v};
  if (system.options().acidity == Acidity::charge_balance) given.ph = {};
  const auto batch = system.solve_many(given);
  bool good = true;
  for (const auto certified : batch.certified) good = good && certified != 0;
  return good;
}

}  // namespace

int main(int count, char** given) {
  if (count == 2 && std::strcmp(given[1], "--compiler") == 0) {
    std::printf("%s\n", __VERSION__);
    return 0;
  }
  if (count != 3) return 2;
  const std::string kernel = given[1];
  const Rows rows = made(kernel == "sea", std::strtoul(given[2], nullptr, 10));
  const Equilibrium system = prepared(kernel, rows);
  const bool good = kernel == "alone" ? each_alone(system, rows) : together(system, rows);
  return good ? 0 : 1;
}
