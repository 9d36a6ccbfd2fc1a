#pragma once

// Waters as a hostile user would ask for: every model, 0 to 50 C, some solids, gases held, 1e-12 to
// 20 mol/kg, pH -2 to 16; and the same water described again from other ingredients.

#include <cmath>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "seeded.hpp"

namespace aeruca::test {

struct HostileWater {
  EquilibriumOptions options;
  EquilibriumInput input;
};

inline std::vector<std::string> names_of(const Dataset& dataset, PhaseKind kind) {
  std::vector<std::string> names;
  for (const Species& species : dataset.species) {
    if (species.kind == kind && std::isfinite(species.log10_k)) names.push_back(species.name);
  }
  return names;
}

/// Component ions that may be weighed in alone.
inline std::vector<std::string> ions_of(const Dataset& dataset) {
  std::vector<std::string> ions;
  for (const auto& name : dataset.components) {
    if (name != "H2O" && name != "H(+)" && name != "e(-)") ions.push_back(name);
  }
  return ions;
}

/// Ions between any two of which the data set has Pitzer parameters: in random order, each that goes
/// with all before it.
inline std::vector<std::string> ions_with_parameters(Random& random, const Dataset& dataset) {
  std::vector<std::string> rest = ions_of(dataset);
  std::vector<std::string> kept;
  const auto goes_with = [&](const std::string& a, const std::string& b) {
    if (dataset.at(a).charge * dataset.at(b).charge > 0) return true;
    return std::any_of(dataset.pitzer.begin(), dataset.pitzer.end(), [&](const auto& set) {
      return (set.cation == a && set.anion == b) || (set.cation == b && set.anion == a);
    });
  };
  while (!rest.empty()) {
    const auto pick =
        static_cast<std::size_t>(uniform(random, 0, static_cast<double>(rest.size())));
    const std::string ion = rest[pick];
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(pick));
    if (std::all_of(kept.begin(), kept.end(),
                    [&](const auto& each) { return goes_with(ion, each); }))
      kept.push_back(ion);
  }
  return kept;
}

inline EquilibriumOptions hostile_options(Random& random, const Dataset& dataset) {
  EquilibriumOptions options;
  const int model = static_cast<int>(uniform(random, 0, 4));
  options.activity = static_cast<ActivityModel>(model);
  options.temperature_c = chance(random, 0.5) ? 25 : uniform(random, 0, 50);
  options.missing_enthalpy = MissingEnthalpy::estimate;
  options.inert = dataset.without_proton_partner();
  const double redox = uniform(random, 0, 3);
  options.redox = redox < 1.5 ? Redox::eh : redox < 2.25 ? Redox::oxygen : Redox::conserved;
  options.acidity = chance(random, 0.6) ? Acidity::given_ph : Acidity::charge_balance;
  const bool all = chance(random, 0.4);
  const double share = chance(random, 0.3) ? 0 : uniform(random, 0, 1);
  for (const auto& name : names_of(dataset, PhaseKind::solid)) {
    if (!all && chance(random, share)) options.allowed_solids.push_back(name);
  }
  if (all || !options.allowed_solids.empty()) options.precipitation = Precipitation::allowed;
  // Of two Pitzer systems one has the ions that the model knows; most others are refused for it.
  if (options.activity == ActivityModel::pitzer && chance(random, 0.5))
    options.components = ions_with_parameters(random, dataset);
  return options;
}

inline EquilibriumInput hostile_input(Random& random, const EquilibriumOptions& options,
                                      const Dataset& dataset) {
  EquilibriumInput input;
  const auto& chosen = options.components;
  const auto may_be_there = [&](const std::string& name) {
    const auto& row = dataset.at(name).components;
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::string& component = dataset.components[c];
      const bool water = component == "H2O" || component == "H(+)" || component == "e(-)";
      if (row[c] == 0 || water || chosen.empty()) continue;
      if (std::find(chosen.begin(), chosen.end(), component) == chosen.end()) return false;
    }
    return true;
  };
  const double share = uniform(random, 0.1, 0.8);
  for (const auto& ion : ions_of(dataset)) {
    if (!may_be_there(ion)) continue;
    if (chance(random, share)) input.totals_mol_per_kg[ion] = ten_to(random, -12, std::log10(20.0));
  }
  if (chance(random, 0.5)) {
    const auto solids = names_of(dataset, PhaseKind::solid);
    for (int k = 0; k < 2; ++k) {
      const auto pick =
          static_cast<std::size_t>(uniform(random, 0, static_cast<double>(solids.size())));
      const double amount = ten_to(random, -6, std::log10(20.0));
      if (may_be_there(solids[pick])) input.totals_mol_per_kg[solids[pick]] = amount;
    }
  }
  if (options.redox == Redox::conserved) {
    for (const char* name : {"copper", "Cu(+)", "O2(aq)"}) {
      if (chance(random, 0.5) && may_be_there(name))
        input.totals_mol_per_kg[name] = ten_to(random, -12, 1);
    }
  }
  for (const char* gas : {"CO2(g)", "HCl(g)"}) {
    if (chance(random, 0.12) && may_be_there(gas)) input.fugacity_bar[gas] = ten_to(random, -8, 1);
  }
  if (options.acidity == Acidity::given_ph) input.ph = uniform(random, -2, 16);
  if (options.redox == Redox::eh) input.eh_v = uniform(random, -1, 1.5);
  if (options.redox == Redox::oxygen) input.oxygen_bar = ten_to(random, -8, 0);
  return input;
}

inline HostileWater hostile_water(Random& random, const Dataset& dataset) {
  HostileWater water;
  water.options = hostile_options(random, dataset);
  water.input = hostile_input(random, water.options, dataset);
  return water;
}

/// The same water from the ions of what was weighed in, components and solids listed backwards.
/// Copper brings its valence: Cu(+) for every electron. What brings electrons without copper, oxygen
/// and the other metals, stays as it was weighed in.
inline HostileWater described_again(const HostileWater& water, const Dataset& dataset) {
  HostileWater again = water;
  again.options.components.clear();
  again.input.totals_mol_per_kg.clear();
  std::vector<double> sum(dataset.components.size(), 0);
  const auto column = [&](const char* name) { return dataset.component_index(name); };
  for (const auto& [name, amount] : water.input.totals_mol_per_kg) {
    const auto& row = dataset.at(name).components;
    if (row[column("e(-)")] != 0 && row[column("Cu(2+)")] == 0) {
      again.input.totals_mol_per_kg[name] = amount;
      continue;
    }
    for (std::size_t c = 0; c < sum.size(); ++c) sum[c] += amount * row[c];
  }
  if (water.options.redox == Redox::conserved) {
    const double electrons = sum[column("e(-)")];
    const double copper = sum[column("Cu(2+)")];
    const double metal = std::max(0.0, electrons - copper);
    const double one = electrons - 2 * metal;
    if (metal > 0) again.input.totals_mol_per_kg["copper"] = metal;
    if (one > 0) again.input.totals_mol_per_kg["Cu(+)"] = one;
    sum[column("Cu(2+)")] = std::max(0.0, copper - metal - one);
  }
  for (std::size_t c = 0; c < sum.size(); ++c) {
    const auto& name = dataset.components[c];
    if (name == "H2O" || name == "H(+)" || name == "e(-)") continue;
    if (sum[c] > 0) again.input.totals_mol_per_kg[name] += sum[c];
    again.options.components.insert(again.options.components.begin(), name);
  }
  std::reverse(again.options.allowed_solids.begin(), again.options.allowed_solids.end());
  return again;
}

inline std::string describe(const HostileWater& water) {
  const auto number = [](double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.17g", value);
    return std::string(text);
  };
  const auto& [options, input] = water;
  std::string text =
      std::string(to_string(options.activity)) + " " + number(options.temperature_c) + " C, " +
      std::string(to_string(options.redox)) + ", " + std::string(to_string(options.acidity));
  if (input.ph) text += ", pH " + number(*input.ph);
  if (input.eh_v) text += ", Eh " + number(*input.eh_v);
  if (input.oxygen_bar) text += ", O2 " + number(*input.oxygen_bar);
  text += options.precipitation == Precipitation::none
              ? std::string(", no solids")
              : ", solids " + (options.allowed_solids.empty()
                                   ? "all"
                                   : std::to_string(options.allowed_solids.size()));
  for (const auto& [name, value] : input.totals_mol_per_kg)
    text += ", " + name + " " + number(value);
  for (const auto& [name, value] : input.fugacity_bar)
    text += ", " + name + " " + number(value) + " bar";
  return text;
}

}  // namespace aeruca::test
