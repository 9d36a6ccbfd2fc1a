#include "bath/bath_question.hpp"

#include "aeruca/weigh_out.hpp"

namespace aeruca::detail {

BathQuestion question_of(const Dataset& dataset, const BathMakeup& bath) {
  BathQuestion question;
  question.temperature_c = bath.temperature_c;
  if (is_plain_water(bath.salt)) {
    if (bath.mol_per_l != 0) throw InputError("mol_per_l", bath.mol_per_l, "0 for water");
    return question;
  }
  const BathSalt& salt = bath_salt(dataset, bath.salt);
  if (!(bath.mol_per_l > 0 && bath.mol_per_l <= 10))
    throw InputError("mol_per_l", bath.mol_per_l, "above 0 to 10 mol/L");
  for (const auto& [ion, count] : salt.ions) {
    if (ion != "OH(-)") question.totals[ion] = count * bath.mol_per_l;
  }
  return question;
}

EquilibriumOptions BathQuestion::options() const {
  EquilibriumOptions options;
  options.activity = activity;
  options.temperature_c = temperature_c;
  options.redox = redox;
  options.acidity = Acidity::charge_balance;
  options.components = {"Na(+)"};
  if (totals.contains("CO3(2-)") || totals.contains("HCO3(-)") || gases.contains("CO2(g)"))
    options.components.emplace_back("CO3(2-)");
  for (const std::string& component : components) options.components.push_back(component);
  if (solids.empty()) return options;
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = solids;
  return options;
}

EquilibriumInput BathQuestion::input() const {
  EquilibriumInput input;
  // Without copper nothing in the bath changes its charge: any potential gives the same answer.
  if (redox == Redox::eh) input.eh_v = 0.4;
  if (redox == Redox::oxygen) input.oxygen_bar = kAirOxygenBar;
  input.totals_mol_per_kg = totals;
  input.fugacity_bar = gases;
  return input;
}

EquilibriumResult solved(const BathQuestion& question,
                         const std::shared_ptr<const Dataset>& dataset) {
  return Equilibrium(dataset, question.options()).solve(question.input());
}

double atoms_in(const Dataset& dataset, const Species& species, const std::string& component) {
  return species.components[dataset.component_index(component)];
}

double dissolved_mg_per_l(const Dataset& dataset, const EquilibriumResult& result,
                          const std::string& component) {
  double sum = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i)
    sum += atoms_in(dataset, dataset.at(result.species[i]), component) * result.molality[i];
  return sum * dataset.at(component).molar_mass_g_per_mol * 1000;
}

std::string main_form_of(const Dataset& dataset, const EquilibriumResult& result,
                         const std::string& component) {
  std::string main = component;
  double most = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const Species& species = dataset.at(result.species[i]);
    const double held = atoms_in(dataset, species, component) * result.molality[i];
    if (held > most) most = held, main = species.name;
  }
  return main;
}

}  // namespace aeruca::detail
