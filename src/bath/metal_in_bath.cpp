// Lead and zinc in a bath: over the least soluble of their solids.

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "bath/bath_question.hpp"
#include "bath/bath_recipe.hpp"
#include "uncertainty/alternatives.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca::detail {
namespace {

constexpr double kPlenty = 0.05;  // mol/kg of the solid

struct Metal {
  std::string name, component;
  std::vector<std::string> solids;
};

Metal metal_of(const std::string& name) {
  if (name == "lead") return {name, "Pb(2+)", {"litharge", "hydrocerussite", "cerussite"}};
  if (name == "zinc")
    return {name, "Zn(2+)", {"zincite", "zinc hydroxide", "hydrozincite", "smithsonite"}};
  throw InputError("metals", name, "lead or zinc");
}

WithinRange by_factor(double value, double factor) {
  return {value, value / factor, value * factor};
}

}  // namespace

CarriedOff metal_in_bath(const std::shared_ptr<const Dataset>& dataset, const BathMakeup& bath,
                         const std::string& name) {
  const Metal metal = metal_of(name);
  const BathQuestion clear = question_of(*dataset, bath);
  const bool carbonate = clear.totals.contains("CO3(2-)") || clear.totals.contains("HCO3(-)");
  CarriedOff found;
  found.metal = name;
  for (const std::string& solid : metal.solids) {
    const Species& species = dataset->at(solid);
    const bool of_carbonate = atoms_in(*dataset, species, "CO3(2-)") > 0;
    if (of_carbonate && !carbonate) continue;
    BathQuestion question = clear;
    question.components = {metal.component};
    question.totals[solid] = kPlenty;
    question.solids = {solid};
    const EquilibriumResult result = solved(question, dataset);
    if (result.status != Status::converged) continue;
    const double mg_per_l = dissolved_mg_per_l(*dataset, result, metal.component);
    if (mg_per_l >= found.mg_per_l.value) continue;
    found.solid = solid;
    found.main_form = main_form_of(*dataset, result, metal.component);
    const double a = atoms_in(*dataset, dataset->at(found.main_form), metal.component) /
                     atoms_in(*dataset, species, metal.component);
    const Balance balance{{found.main_form, 1}, {solid, -a}};
    const double log10_factor =
        std::max(2 * stated_uncertainty(*dataset, balance, bath.temperature_c),
                 widest_change(*dataset, balance, bath.temperature_c));
    found.mg_per_l = by_factor(mg_per_l, std::pow(10.0, log10_factor));
  }
  return found;
}

}  // namespace aeruca::detail
