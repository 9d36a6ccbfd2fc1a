#include "equilibrium/estimated_heats.hpp"

#include <cmath>
#include <set>

namespace aeruca::detail {
namespace {

constexpr double kLeast = 0.01;  // of what is dissolved of a component

// Dissolved species that hold that much of a component besides acid, electrons and water.
std::set<std::string> leading_species(const WaterSystem& system, const Water& water,
                                      std::span<const double> molality) {
  const auto held = [&](std::size_t i, std::size_t column) {
    const Species& species = system.dataset->species[system.species.index[water.species[i]]];
    return std::abs(species.components[system.component[column]]) * molality[i];
  };
  std::set<std::string> names;
  for (const std::size_t column : water.column) {
    if (column == WaterSystem::kHydrogen || column == WaterSystem::kElectron) continue;
    double total = 0;
    for (std::size_t i = 0; i < water.species.size(); ++i) total += held(i, column);
    for (std::size_t i = 0; i < water.species.size(); ++i) {
      if (total > 0 && held(i, column) >= kLeast * total)
        names.insert(system.species.names[water.species[i]]);
    }
  }
  return names;
}

}  // namespace

std::vector<std::string> estimated_heats_of(const WaterSystem& system, const Water& water,
                                            std::span<const double> molality,
                                            const std::map<std::string, double>& formed) {
  std::vector<std::string> names;
  if (system.estimated_heats.empty()) return names;
  const std::set<std::string> leading = leading_species(system, water, molality);
  for (const std::string& name : system.estimated_heats) {
    if (leading.contains(name) || formed.contains(name)) names.push_back(name);
  }
  return names;
}

}  // namespace aeruca::detail
