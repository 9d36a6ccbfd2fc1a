#include "aeruca/speciation.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "analysis/composition.hpp"
#include "analysis/words.hpp"

namespace aeruca {
namespace {

using namespace detail;

constexpr double kSaturated = 5e-4;  // log10; an index this near to 0 is shown as 0.00

struct Form {
  const Species* species;
  double mol_per_kg;
  double log10_activity;
};

// What is there: dissolved species and formed solids.
std::vector<Form> forms_of(const EquilibriumResult& result, const Dataset& dataset) {
  std::vector<Form> forms;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    if (result.molality[i] > 0)
      forms.push_back(
          {&dataset.at(result.species[i]), result.molality[i], result.log10_activity[i]});
  }
  for (std::size_t s = 0; s < result.allowed_solids.size(); ++s) {
    if (result.solid_mol_per_kg[s] > 0)
      forms.push_back({&dataset.at(result.allowed_solids[s]), result.solid_mol_per_kg[s], 0});
  }
  return forms;
}

ElementShares shares_of(const std::string& component, const std::vector<Form>& forms,
                        const Dataset& dataset) {
  ElementShares shares;
  shares.component = component;
  shares.word = ion_word(dataset.at(component));
  for (const Form& form : forms)
    shares.mol_per_kg += held_of(dataset, *form.species, component) * form.mol_per_kg;
  for (const Form& form : forms) {
    const double held = held_of(dataset, *form.species, component) * form.mol_per_kg;
    if (held > 0) {
      shares.forms.push_back({form.species->name, form.species->kind,
                              100 * held / shares.mol_per_kg, form.mol_per_kg,
                              form.log10_activity});
    }
  }
  std::stable_sort(
      shares.forms.begin(), shares.forms.end(),
      [](const ElementForm& a, const ElementForm& b) { return a.percent > b.percent; });
  return shares;
}

std::vector<std::pair<std::string, double>> needs_of(const Species& solid, double index,
                                                     const Dataset& dataset) {
  std::vector<std::pair<std::string, double>> needs;
  if (index > -kSaturated) return needs;
  for (const std::string& component : dataset.components) {
    const double held = held_of(dataset, solid, component);
    if (is_water_component(component) || !(held > 0)) continue;
    needs.emplace_back(ion_word(dataset.at(component)), std::pow(10, -index / held));
  }
  std::stable_sort(needs.begin(), needs.end(),
                   [](const auto& a, const auto& b) { return a.second < b.second; });
  return needs;
}

}  // namespace

std::vector<ElementShares> shares_by_element(const EquilibriumResult& result,
                                             const Dataset& dataset) {
  const std::vector<Form> forms = forms_of(result, dataset);
  std::vector<ElementShares> all;
  for (const std::string& component : dataset.components) {
    if (is_water_component(component)) continue;
    ElementShares shares = shares_of(component, forms, dataset);
    if (shares.mol_per_kg > 0) all.push_back(std::move(shares));
  }
  std::stable_sort(all.begin(), all.end(), [](const ElementShares& a, const ElementShares& b) {
    const bool first = a.component == "Cu(2+)";
    const bool second = b.component == "Cu(2+)";
    return first != second ? first : a.mol_per_kg > b.mol_per_kg;
  });
  return all;
}

std::vector<SolidNeed> solid_needs(const EquilibriumResult& result, const Dataset& dataset) {
  std::vector<SolidNeed> all;
  for (const auto& [name, index] : result.saturation_index) {
    const Species& solid = dataset.at(name);
    const auto allowed =
        std::find(result.allowed_solids.begin(), result.allowed_solids.end(), name);
    SolidNeed need{name,
                   index,
                   0,
                   allowed != result.allowed_solids.end(),
                   solid.slow_to_form,
                   needs_of(solid, index, dataset)};
    if (need.allowed) {
      need.formed_mol_per_kg =
          result
              .solid_mol_per_kg[static_cast<std::size_t>(allowed - result.allowed_solids.begin())];
    }
    all.push_back(std::move(need));
  }
  std::stable_sort(all.begin(), all.end(), [](const SolidNeed& a, const SolidNeed& b) {
    if ((a.formed_mol_per_kg > 0) != (b.formed_mol_per_kg > 0)) return a.formed_mol_per_kg > 0;
    return a.index > b.index;
  });
  return all;
}

Speciation speciation_of(SolvedWater solved, const Dataset& dataset) {
  Speciation speciation{std::move(solved), {}, {}, {}};
  const EquilibriumResult& result = speciation.solved.result;
  if (result.status != Status::converged || !result.certificate.holds()) return speciation;
  speciation.elements = shares_by_element(result, dataset);
  speciation.solids = solid_needs(result, dataset);
  return speciation;
}

}  // namespace aeruca
