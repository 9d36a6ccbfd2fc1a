// Laws of the equilibrium solver on seeded random waters: every certificate holds, the answer does not
// depend on the order or splitting of what went in, and it moves the way thermodynamics says.

#include "aeruca/equilibrium.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>
#include <string>

#include "catch.hpp"

using namespace aeruca;

namespace {

long seeded_cases(long full) {
  const char* shorter = std::getenv("AERUCA_SEEDED_CASES");
  return shorter != nullptr ? std::min(full, std::max(1L, std::atol(shorter))) : full;
}

using Random = std::mt19937_64;

double uniform(Random& random, double low, double high) {
  // Not std::uniform_real_distribution: its values differ between standard libraries.
  return low + (high - low) * (static_cast<double>(random() >> 11) * 0x1.0p-53);
}

bool chance(Random& random, double probability) { return uniform(random, 0, 1) < probability; }

double random_total(Random& random) { return std::pow(10, uniform(random, -12, std::log10(6.0))); }

// Ingredients by component, other ways of bringing copper in last.
const std::vector<std::string> kIngredients{"Cu(2+)", "Cl(-)",   "Na(+)",  "K(+)",    "Mg(2+)",
                                            "Ca(2+)", "CO3(2-)", "SO4(2-)", "NO3(-)", "NH4(+)"};

std::vector<std::string> solid_names(const Dataset& dataset) {
  std::vector<std::string> names;
  for (const Species& species : dataset.species) {
    if (species.kind == PhaseKind::solid && std::isfinite(species.log10_k)) names.push_back(species.name);
  }
  return names;
}

EquilibriumOptions random_system(Random& random, const std::vector<std::string>& solids) {
  EquilibriumOptions options;
  const double model = uniform(random, 0, 3);
  options.activity = model < 1   ? ActivityModel::ideal
                     : model < 2 ? ActivityModel::dilute
                                 : ActivityModel::sit;
  const double redox = uniform(random, 0, 3);
  options.redox = redox < 1.5 ? Redox::eh : redox < 2.25 ? Redox::oxygen : Redox::conserved;
  options.fixed_ph = chance(random, 0.6);
  const double allowed = uniform(random, 0, 3);
  options.all_phases = allowed < 1;
  if (allowed < 2 && !options.all_phases) {
    const double share = uniform(random, 0, 1);
    for (const auto& name : solids) {
      if (chance(random, share)) options.phases.push_back(name);
    }
  }
  return options;
}

struct Waters {
  std::vector<std::string> ingredients;
  std::vector<double> totals, ph, redox;
  std::map<std::string, double> fugacity_bar;
  std::size_t count = 0;
};

Waters random_waters(Random& random, const EquilibriumOptions& options, std::size_t count) {
  Waters waters;
  waters.count = count;
  waters.ingredients = kIngredients;
  if (options.redox == Redox::conserved) {
    for (const char* name : {"copper", "nantokite", "Cu(+)", "O2(aq)"}) waters.ingredients.emplace_back(name);
  }
  // Carbon dioxide of the air beside a fixed pH of 9 or more would mean up to 10^8 mol/kg carbonate:
  // no water, so no case.
  const bool gas = chance(random, 0.15);
  if (gas) waters.fugacity_bar["CO2(g)"] = std::pow(10, uniform(random, -5, 0));
  const double ph_most = gas ? 8 : 15;
  for (std::size_t r = 0; r < count; ++r) {
    for (std::size_t k = 0; k < waters.ingredients.size(); ++k) {
      waters.totals.push_back(chance(random, 0.55) ? random_total(random) : 0);
    }
    waters.ph.push_back(uniform(random, -1, ph_most));
    waters.redox.push_back(options.redox == Redox::oxygen ? std::pow(10, uniform(random, -8, 0))
                                                          : uniform(random, -1, 1.5));
  }
  return waters;
}

EquilibriumInput one_water(const Waters& waters, std::size_t r) {
  EquilibriumInput input;
  const std::size_t k = waters.ingredients.size();
  for (std::size_t c = 0; c < k; ++c) input.totals_mol_per_kg[waters.ingredients[c]] = waters.totals[r * k + c];
  input.ph = waters.ph[r];
  input.eh_v = input.oxygen_bar = waters.redox[r];
  input.fugacity_bar = waters.fugacity_bar;
  return input;
}

std::string describe(const EquilibriumOptions& options, const EquilibriumInput& input) {
  std::string text = std::string(to_string(options.activity)) + ", redox " +
                     std::to_string(static_cast<int>(options.redox)) +
                     (options.fixed_ph ? ", pH " + std::to_string(input.ph) : ", neutral") + ", Eh or O2 " +
                     std::to_string(input.eh_v) + ", solids " +
                     (options.all_phases ? "all" : std::to_string(options.phases.size()));
  for (const auto& [name, value] : input.totals_mol_per_kg) {
    if (value > 0) text += ", " + name + " " + std::to_string(value);
  }
  return text;
}

}  // namespace

TEST_CASE("every one of 100 000 random waters is solved and certified") {
  const auto dataset = default_dataset();
  const std::vector<std::string> solids = solid_names(*dataset);
  Random random(20240229);
  const std::size_t per_system = 100;
  const long systems = std::max(1L, seeded_cases(100000) / static_cast<long>(per_system));
  long solved = 0;
  for (long s = 0; s < systems; ++s) {
    const EquilibriumOptions options = random_system(random, solids);
    const Equilibrium equilibrium(dataset, options);
    const Waters waters = random_waters(random, options, per_system);
    const auto batch = equilibrium.solve_many(waters.ingredients, waters.totals, waters.ph, waters.redox,
                                              waters.fugacity_bar);
    for (std::size_t r = 0; r < waters.count; ++r) {
      if (batch.certified[r] != 0) {
        ++solved;
        continue;
      }
      const auto input = one_water(waters, r);
      const auto result = equilibrium.solve(input);
      CAPTURE(s, r, describe(options, input), result.message, result.certificate.mass_balance,
              result.certificate.charge_balance, result.certificate.supersaturation,
              result.certificate.smallest_phase, result.certificate.duality_gap,
              result.certificate.activity_error, result.certificate.iterations);
      CHECK(false);
    }
  }
  CHECK(solved == systems * static_cast<long>(per_system));
}
