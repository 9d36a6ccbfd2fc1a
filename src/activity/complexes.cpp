#include "activity/complexes.hpp"

#include <algorithm>
#include <iterator>

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

bool declares(const std::vector<std::string>& complexes, const std::string& name) {
  return std::find(complexes.begin(), complexes.end(), name) != complexes.end();
}

// The complexes that the chosen parameters of their two ions contain.
template <class Parameters>
void add_contained(const Dataset& dataset, const std::vector<Parameters>& all,
                   std::vector<ContainedComplex>& contained) {
  for (const Species& candidate : dataset.species) {
    if (candidate.kind != PhaseKind::aqueous) continue;
    for (const Parameters& one : all) {
      if (!dataset.contains(one.cation) || !dataset.contains(one.anion)) continue;
      if (!is_complex_of(candidate, dataset.at(one.cation), dataset.at(one.anion))) continue;
      if (parameters_beside(all, one.cation, one.anion, {}) != &one) continue;
      if (!declares(one.complexes, candidate.name))
        contained.push_back({candidate.name, one.cation, one.anion});
    }
  }
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

std::vector<std::string> complexes_listed(const Dataset& dataset,
                                          std::span<const std::string> species,
                                          const Species& cation, const Species& anion) {
  std::vector<std::string> listed;
  std::copy_if(
      species.begin(), species.end(), std::back_inserter(listed),
      [&](const std::string& name) { return is_complex_of(dataset.at(name), cation, anion); });
  return listed;
}

}  // namespace detail

std::vector<ContainedComplex> contained_complexes(ActivityModel model, const Dataset& dataset) {
  std::vector<ContainedComplex> contained;
  if (model == ActivityModel::sit) detail::add_contained(dataset, dataset.sit, contained);
  if (model == ActivityModel::pitzer) detail::add_contained(dataset, dataset.pitzer, contained);
  return contained;
}

std::string contained_remark(ActivityModel model, std::span<const std::string> complexes) {
  return detail::say("activity.contained", {{"model", std::string(to_string(model))},
                                            {"complexes", detail::join(complexes, ", ")}});
}

}  // namespace aeruca
