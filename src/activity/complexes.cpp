#include "activity/complexes.hpp"

#include <algorithm>

#include "aeruca/activity.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace detail {
namespace {

double atoms(const Species& species, std::string_view element) {
  for (const auto& [symbol, count] : species.elements) {
    if (symbol == element) return count;
  }
  return 0;
}

bool only_hydrogen(const Species& cation) {
  return cation.elements.size() == 1 && cation.elements.front().first == "H";
}

// The parameters of two ions that make this complex; null when there are none.
const PitzerBinary* parameters_instead(const Dataset& dataset, const Species& candidate) {
  for (const PitzerBinary& set : dataset.pitzer) {
    if (!dataset.contains(set.cation) || !dataset.contains(set.anion)) continue;
    const Species& cation = dataset.at(set.cation);
    if (only_hydrogen(cation)) continue;
    if (is_complex_of(candidate, cation, dataset.at(set.anion))) return &set;
  }
  return nullptr;
}

}  // namespace

bool is_complex_of(const Species& candidate, const Species& cation, const Species& anion) {
  const int excess = cation.charge - candidate.charge;
  if (excess <= 0 || excess % -anion.charge != 0) return false;
  const int n = excess / -anion.charge;
  const auto matches = [&](const Species& holder) {
    return std::all_of(holder.elements.begin(), holder.elements.end(), [&](const auto& element) {
      const std::string& symbol = element.first;
      return atoms(candidate, symbol) == atoms(cation, symbol) + n * atoms(anion, symbol);
    });
  };
  return matches(candidate) && matches(cation) && matches(anion);
}

bool complex_listed(const Dataset& dataset, std::span<const std::string> species,
                    const Species& cation, const Species& anion) {
  if (only_hydrogen(cation)) return false;
  return std::any_of(species.begin(), species.end(), [&](const std::string& name) {
    return is_complex_of(dataset.at(name), cation, anion);
  });
}

}  // namespace detail

std::vector<ContainedComplex> contained_complexes(ActivityModel model, const Dataset& dataset) {
  std::vector<ContainedComplex> contained;
  if (model != ActivityModel::pitzer) return contained;
  for (const Species& candidate : dataset.species) {
    if (candidate.kind != PhaseKind::aqueous) continue;
    if (const PitzerBinary* set = detail::parameters_instead(dataset, candidate))
      contained.push_back({candidate.name, set->cation, set->anion});
  }
  return contained;
}

std::string contained_remark(ActivityModel model, std::span<const std::string> complexes) {
  return detail::say("activity.contained", {{"model", std::string(to_string(model))},
                                            {"complexes", detail::join(complexes, ", ")}});
}

}  // namespace aeruca
