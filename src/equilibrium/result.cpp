// What a result can be asked.

#include <algorithm>

#include "aeruca/equilibrium.hpp"
#include "base/text.hpp"

namespace aeruca {

std::map<std::string, double> EquilibriumResult::formed() const {
  std::map<std::string, double> solids;
  for (std::size_t s = 0; s < allowed_solids.size(); ++s) {
    if (solid_mol_per_kg[s] > 0) solids.emplace(allowed_solids[s], solid_mol_per_kg[s]);
  }
  return solids;
}

double EquilibriumResult::molality_of(std::string_view name) const {
  const auto found = std::find(species.begin(), species.end(), name);
  if (found == species.end()) {
    throw UnknownName("dissolved species", std::string(name), detail::nearest_name(name, species));
  }
  return molality[static_cast<std::size_t>(found - species.begin())];
}

void EquilibriumResult::raise_if_failed() const {
  if (status == Status::converged && certificate.holds()) return;
  throw Error(message.empty() ? "no equilibrium was found" : message);
}

}  // namespace aeruca
