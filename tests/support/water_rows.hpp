#pragma once

// A water of a row: what was weighed in, what is held, which solids and which model; and what is
// asked of it. The columns are those of equilibrium.csv.

#include <algorithm>
#include <map>
#include <string>

#include "aeruca/equilibrium.hpp"
#include "base/text.hpp"
#include "reference.hpp"

namespace aeruca_test {

/// Of "Na(+)=0.1;Cl(-)=0.1".
inline std::map<std::string, double> amounts(const std::string& text) {
  std::map<std::string, double> parsed;
  if (text.empty()) return parsed;
  for (const auto part : aeruca::detail::split(text, ';')) {
    const std::size_t equals = part.find('=');
    parsed[std::string(part.substr(0, equals))] =
        *aeruca::detail::parse_number(part.substr(equals + 1));
  }
  return parsed;
}

/// Answer or not.
inline aeruca::EquilibriumResult answer(const Row& row) {
  using namespace aeruca;
  EquilibriumOptions options;
  EquilibriumInput input;
  options.activity = activity_model_from(row.at("model"));
  input.totals_mol_per_kg = amounts(row.at("totals"));
  input.fugacity_bar = amounts(row.at("gases"));
  if (row.at("ph") == "neutral") {
    options.acidity = Acidity::charge_balance;
  } else {
    input.ph = number(row, "ph");
  }
  const std::string& redox = row.at("redox");
  if (redox == "conserved") {
    options.redox = Redox::conserved;
  } else if (redox.rfind("O2=", 0) == 0) {
    options.redox = Redox::oxygen;
    input.oxygen_bar = *aeruca::detail::parse_number(redox.substr(3));
  } else {
    input.eh_v = *aeruca::detail::parse_number(redox);
  }
  const std::string& solids = row.at("solids");
  if (!solids.empty()) options.precipitation = Precipitation::allowed;
  if (!solids.empty() && solids != "all") {
    for (const auto name : aeruca::detail::split(solids, ';'))
      options.allowed_solids.emplace_back(name);
  }
  return Equilibrium(default_dataset(), options).solve(input);
}

inline aeruca::EquilibriumResult solve(const Row& row) {
  auto result = answer(row);
  result.raise_if_failed();
  return result;
}

inline double coefficient(const std::string& species, const std::string& component) {
  const auto data = aeruca::default_dataset();
  return data->at(species).components[data->component_index(component)];
}

/// mol/kg of a component in solution.
inline double total(const aeruca::EquilibriumResult& result, const std::string& component) {
  double sum = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    sum += result.molality[i] * coefficient(result.species[i], component);
  }
  return sum;
}

inline double share(const aeruca::EquilibriumResult& result, const std::string& one,
                    const std::string& of) {
  double sum = 0;
  // The plus signs inside charges stand before a parenthesis that closes.
  std::string name;
  for (std::size_t k = 0; k <= of.size(); ++k) {
    if (k < of.size() && (of[k] != '+' || (k + 1 < of.size() && of[k + 1] == ')'))) {
      name += of[k];
      continue;
    }
    sum += result.molality_of(name);
    name.clear();
  }
  return result.molality_of(one) / sum;
}

inline double largest(const aeruca::EquilibriumResult& result, const std::string& one,
                      const std::string& component) {
  double most = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    if (coefficient(result.species[i], component) > 0) most = std::max(most, result.molality[i]);
  }
  return result.molality_of(one) >= most ? 1 : 0;
}

}  // namespace aeruca_test
