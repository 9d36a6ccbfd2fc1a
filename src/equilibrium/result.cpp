// What a result can be asked.

#include <algorithm>

#include "aeruca/equilibrium.hpp"
#include "base/text.hpp"

namespace aeruca {

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
