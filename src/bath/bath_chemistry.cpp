#include "aeruca/bath_chemistry.hpp"

#include <cmath>
#include <map>
#include <utility>

#include "aeruca/weigh_out.hpp"
#include "uncertainty/alternatives.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca {
namespace {

using DatasetPointer = std::shared_ptr<const Dataset>;

constexpr double kPlenty = 0.05;  // mol per kg of a solid: more than any bath takes up

double atoms(const Dataset& dataset, const Species& species, const char* component) {
  return species.components[dataset.component_index(component)];
}

// One bath, its solids if any, and what is held.
struct Question {
  std::map<std::string, double> totals;
  std::vector<std::string> solids;
  std::map<std::string, double> gases;
  Redox redox = Redox::eh;
  double temperature_c = 25;
};

Question question_of(const Dataset& dataset, const BathMakeup& bath) {
  if (!(bath.mol_per_l > 0 && bath.mol_per_l <= 10))
    throw InputError("mol_per_l", bath.mol_per_l, "above 0 to 10 mol/L");
  Question question;
  question.temperature_c = bath.temperature_c;
  for (const auto& [ion, count] : bath_salt(dataset, bath.salt).ions) {
    if (ion != "OH(-)") question.totals[ion] = count * bath.mol_per_l;
  }
  return question;
}

EquilibriumOptions options_of(const Question& question) {
  EquilibriumOptions options;
  options.temperature_c = question.temperature_c;
  options.redox = question.redox;
  options.acidity = Acidity::charge_balance;
  options.components = {"Na(+)"};
  if (question.totals.contains("CO3(2-)") || question.totals.contains("HCO3(-)"))
    options.components.emplace_back("CO3(2-)");
  if (question.solids.empty()) return options;
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = question.solids;
  options.components.emplace_back("Cu(2+)");
  return options;
}

EquilibriumResult solved(const Question& question, const DatasetPointer& dataset) {
  EquilibriumInput input;
  // Without copper nothing in the bath changes its charge: any potential gives the same answer.
  if (question.redox == Redox::eh) input.eh_v = 0.4;
  if (question.redox == Redox::oxygen) input.oxygen_bar = kAirOxygenBar;
  input.totals_mol_per_kg = question.totals;
  input.fugacity_bar = question.gases;
  return Equilibrium(dataset, options_of(question)).solve(input);
}

double dissolved_copper_mg_per_l(const Dataset& dataset, const EquilibriumResult& result) {
  double copper = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i)
    copper += atoms(dataset, dataset.at(result.species[i]), "Cu(2+)") * result.molality[i];
  return copper * dataset.at("Cu(2+)").molar_mass_g_per_mol * 1000;
}

std::string main_copper_form(const Dataset& dataset, const EquilibriumResult& result) {
  std::string main = "Cu(2+)";
  double most = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const Species& species = dataset.at(result.species[i]);
    const double copper = atoms(dataset, species, "Cu(2+)") * result.molality[i];
    if (copper > most) most = copper, main = species.name;
  }
  return main;
}

// a solid + b copper = main form, where copper changes its charge, for one formula of the form:
//   copper      a atoms + b     = copper of the form
//   electrons   a electrons + 2 b = electrons of the form
detail::Balance dissolution(const Dataset& dataset, const Species& solid, const Species& form) {
  const double copper = atoms(dataset, form, "Cu(2+)");
  const double in_solid = atoms(dataset, solid, "Cu(2+)");
  const double a =
      (2 * copper - atoms(dataset, form, "e(-)")) / (2 * in_solid - atoms(dataset, solid, "e(-)"));
  return {{form.name, 1}, {solid.name, -a}, {"copper", -(copper - in_solid * a)}};
}

}  // namespace

std::string_view to_string(BathAir air) {
  return air == BathAir::open ? "open" : "shut out";
}

EquilibriumResult bath_water(const DatasetPointer& dataset, const BathMakeup& bath, BathAir air) {
  Question question = question_of(*dataset, bath);
  if (air == BathAir::open) question.gases["CO2(g)"] = kAirCarbonDioxideBar;
  return solved(question, dataset);
}

CopperOverSolid copper_over(const DatasetPointer& dataset, const BathMakeup& bath,
                            const std::string& solid, BathAir air) {
  const Species& offered = dataset->at(solid);
  if (!(atoms(*dataset, offered, "Cu(2+)") > 0) || offered.kind != PhaseKind::solid)
    throw InputError("solid", solid, "a solid that holds copper");
  Question question = question_of(*dataset, bath);
  question.totals[solid] = kPlenty;
  question.solids = {solid};
  question.redox = air == BathAir::open ? Redox::oxygen : Redox::conserved;
  if (air == BathAir::shut_out) {
    question.totals["copper"] = kPlenty;
    question.solids.emplace_back("copper");
  }
  const EquilibriumResult result = solved(question, dataset);
  CopperOverSolid copper;
  copper.solid = solid;
  copper.air = air;
  copper.temperature_c = bath.temperature_c;
  copper.status = result.status;
  copper.message = result.message;
  copper.warnings = result.warnings;
  copper.remarks = result.remarks;
  copper.figures = result.figures;
  copper.estimated_heats = result.estimated_heats;
  if (result.status != Status::converged) return copper;
  copper.mg_per_l = dissolved_copper_mg_per_l(*dataset, result);
  copper.main_form = main_copper_form(*dataset, result);
  const detail::Balance balance = dissolution(*dataset, offered, dataset->at(copper.main_form));
  const double there = bath.temperature_c;
  copper.factor = std::pow(10.0, 2 * detail::stated_uncertainty(*dataset, balance, there));
  copper.other_factor = std::pow(10.0, detail::widest_change(*dataset, balance, there));
  return copper;
}

}  // namespace aeruca
