// The public class: names in, named answers out.

#include "aeruca/equilibrium.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "equilibrium/degenerate.hpp"
#include "equilibrium/estimated_heats.hpp"
#include "equilibrium/refusals.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca {

using namespace detail;

// By system column; minus infinity for a component that is not there.
std::vector<double> Equilibrium::Impl::full_lambda(const Workplace& place) const {
  std::vector<double> lambda(system.columns.size(), kAbsent);
  for (std::size_t f = 0; f < place.water.column.size(); ++f) {
    lambda[place.water.column[f]] = place.solver.lambda[f];
  }
  return lambda;
}

double Equilibrium::Impl::potential(const Workplace& place, std::size_t column) {
  return place.solver.lambda[column] / kLn10;
}

void Equilibrium::Impl::dissolved(const Workplace& place, EquilibriumResult& result) const {
  const std::size_t n = system.species.names.size();
  result.species = system.species.names;
  result.molality.assign(n, 0);
  result.log10_molality.assign(n, kAbsent);
  result.log10_activity.assign(n, kAbsent);
  const auto& values = place.inspection.values;
  for (std::size_t i = 0; i < place.water.species.size(); ++i) {
    const std::size_t s = place.water.species[i];
    result.molality[s] = place.solver.molality[i];
    result.log10_molality[s] = place.solver.u[i] / kLn10;
    result.log10_activity[s] = (place.solver.u[i] + values.ln_gamma[s]) / kLn10;
    result.charge_mol_per_kg += system.charge[s] * place.solver.molality[i];
  }
  result.ionic_strength = values.ionic_strength;
  result.water_activity = std::exp(values.ln_water_activity);
  result.ph = -potential(place, WaterSystem::kHydrogen);
  result.pe = -potential(place, WaterSystem::kElectron);
  result.eh_v = result.pe * system.nernst_v;
  result.solvent_kg = place.solvent_kg;
}

void Equilibrium::Impl::solids(const Workplace& place, EquilibriumResult& result) const {
  result.allowed_solids = system.phases.names;
  result.solid_mol_per_kg.assign(result.allowed_solids.size(), 0);
  const auto tied = place.solver.ties.phases();
  for (std::size_t k = 0; k < tied.size(); ++k) {
    result.solid_mol_per_kg[place.water.phases[tied[k]]] =
        place.solver.amount[k] * place.solvent_kg;
  }
  const std::vector<double> lambda = full_lambda(place);
  for (std::size_t s = 0; s < system.solids.names.size(); ++s) {
    const double index =
        system.solid_rows.log10_value(s, lambda, place.inspection.values.ln_water_activity);
    if (index > kAbsent) result.saturation_index[system.solids.names[s]] = index;
  }
}

void Equilibrium::Impl::degenerate(const Workplace& place, EquilibriumResult& result) const {
  const Solver& solver = place.solver;
  for (const std::size_t s : replaceable_solids(
           place.water.chemistry, {solver.lambda, solver.ties.phases(), solver.amount},
           place.inspection.values.ln_water_activity)) {
    result.degenerate.push_back(system.phases.names[place.water.phases[s]]);
  }
}

void Equilibrium::Impl::gases(const Workplace& place, EquilibriumResult& result) const {
  const std::vector<double> lambda = full_lambda(place);
  result.gases = system.gases.names;
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    result.log10_fugacity.push_back(
        system.gas_rows.log10_value(g, lambda, place.inspection.values.ln_water_activity));
  }
}

void Equilibrium::Impl::warnings(const Workplace& place, EquilibriumResult& result) const {
  result.warnings = system.warnings;
  result.remarks = system.remarks;
  result.figures = system.figures;
  result.estimated_heats =
      estimated_heats_of(system, place.water, place.solver.molality, result.formed());
  for (const std::size_t j : place.water.column) {
    if (system.inert[j] != 0)
      result.warnings.push_back(
          say("equilibrium.warning.ion_only",
              {{"ion", system.columns[j]},
               {"acid", system.dataset->at(system.columns[j]).proton_partner}}));
  }
  std::vector<std::string> contained;
  for (const LeftToModel& each : system.left_to_model) {
    const bool there = each.cation != kNone && each.anion != kNone &&
                       result.molality[each.cation] > 0 && result.molality[each.anion] > 0;
    if (there) contained.push_back(each.name);
  }
  if (!contained.empty())
    result.remarks.push_back(contained_remark(system.options.activity, contained));
  const auto doubtful = doubtful_pairs(system, place.water, place.solver.molality, kWorthTelling);
  if (!doubtful.empty()) result.warnings.push_back(estimates_in_words(system, doubtful));
  const double most = system.activity->ionic_strength_max(result.molality);
  if (result.ionic_strength > most) {
    result.warnings.push_back(say("equilibrium.warning.ionic_strength",
                                  {{"ionic_strength", format_number(result.ionic_strength, 3)},
                                   {"most", format_number(most, 3)},
                                   {"model", std::string(to_string(system.options.activity))}}));
  }
  if (!result.degenerate.empty()) {
    result.warnings.push_back(
        say("equilibrium.warning.degenerate", {{"solids", join(result.degenerate, ", ")}}));
  }
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    if (system.gas_is_oxidant[g] == 0 || result.log10_fugacity[g] < 0) continue;
    result.warnings.push_back(
        say("equilibrium.warning.water_decomposes",
            {{"gas", result.gases[g]}, {"log10_bar", format_number(result.log10_fugacity[g], 3)}}));
  }
}

EquilibriumResult Equilibrium::Impl::report(const Workplace& place) const {
  EquilibriumResult result;
  result.status = place.status;
  result.certificate = place.certificate;
  result.message = place.message;
  if (place.status != Status::converged) {
    result.species = system.species.names;
    result.molality.assign(result.species.size(), kNotGiven);
    result.log10_molality = result.log10_activity = result.molality;
    result.allowed_solids = system.phases.names;
    result.solid_mol_per_kg.assign(result.allowed_solids.size(), kNotGiven);
    result.ph = result.pe = result.eh_v = result.ionic_strength = result.water_activity =
        result.solvent_kg = kNotGiven;
    return result;
  }
  dissolved(place, result);
  solids(place, result);
  degenerate(place, result);
  gases(place, result);
  warnings(place, result);
  return result;
}

Equilibrium::Equilibrium(std::shared_ptr<const Dataset> dataset, EquilibriumOptions options)
    : impl_(std::make_unique<Impl>()) {
  impl_->system = make_system(std::move(dataset), std::move(options));
}
Equilibrium::~Equilibrium() = default;
Equilibrium::Equilibrium(Equilibrium&&) noexcept = default;
Equilibrium& Equilibrium::operator=(Equilibrium&&) noexcept = default;

const EquilibriumOptions& Equilibrium::options() const {
  return impl_->system.options;
}
const std::vector<std::string>& Equilibrium::estimated_heats() const {
  return impl_->system.estimated_heats;
}
const std::vector<std::string>& Equilibrium::species() const {
  return impl_->system.species.names;
}
const std::vector<std::string>& Equilibrium::allowed_solids() const {
  return impl_->system.phases.names;
}

HeldWater detail::held_of(const WaterSystem& system, const EquilibriumInput& input) {
  HeldWater held =
      held_of(system.options, input.ph, input.eh_v, input.oxygen_bar, input.water_activity);
  for (const auto& [name, fugacity] : input.fugacity_bar)
    held.gases.emplace_back(find_gas(system, name), ln_fugacity(name, fugacity));
  return held;
}

std::vector<double> detail::totals_of(const WaterSystem& system, const EquilibriumInput& input) {
  std::vector<double> totals(system.columns.size(), 0);
  for (const auto& [name, value] : input.totals_mol_per_kg)
    add_ingredient(system, name, checked_total(name, value), totals);
  return totals;
}

EquilibriumResult Equilibrium::solve(const EquilibriumInput& input) const {
  const WaterSystem& system = impl_->system;
  const HeldWater held = held_of(system, input);
  const std::vector<double> totals = totals_of(system, input);
  const auto place = impl_->workshop.borrow();
  fill_water(system, totals, held, place->water);
  solve_as_asked(system, held, *place);
  return impl_->report(*place);
}

}  // namespace aeruca
