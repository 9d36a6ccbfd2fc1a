// The public class: names in, named answers out; one water or many.

#include "aeruca/equilibrium.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "equilibrium/certify.hpp"
#include "equilibrium/solver.hpp"
#include "equilibrium/system.hpp"

namespace aeruca {

namespace {

using namespace detail;

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kAbsent = -std::numeric_limits<double>::infinity();

// Everything a solve needs besides the system; one per call, reused within a batch.
struct Workplace {
  Water water;
  Solver solver;
  Inspection inspection;
  Certificate certificate;
  Status status = Status::iteration_limit;
};

std::string failure(Status status, const Certificate& certificate) {
  switch (status) {
    case Status::infeasible: return "what is held contradicts itself: two of pH, Eh and the gases fix the same potential";
    case Status::singular: return "no answer: the equations became singular";
    case Status::iteration_limit: return "no answer within the iteration limit";
    case Status::converged: break;
  }
  return certificate.holds() ? "" : "an answer was found but its certificate does not hold";
}

void solve_water(const WaterSystem& system, Workplace& place) {
  const Chemistry& chemistry = place.water.chemistry;
  const std::size_t model_species = system.species.names.size();
  Solver& solver = place.solver;
  solver.prepare(chemistry, system.activity.get(), model_species);
  place.status = solver.solve(system.options.iteration_limit);
  place.certificate = Certificate{};
  if (place.status == Status::converged) {
    const Answer answer{solver.lambda, solver.u, solver.molality, solver.ties.phases(), solver.amount,
                        !system.options.fixed_ph};
    place.certificate = certify(chemistry, *system.activity, model_species, answer, place.inspection);
  }
  if (place.status != Status::converged) place.certificate.mass_balance = kNan;  // holds nothing
  place.certificate.iterations = solver.iterations;
}

double total_of(const std::string& name, double value) {
  if (!(value >= 0 && value <= 1000)) throw InputError("total of " + name, value, "0 to 1000 mol/kg");
  return value;
}

bool answered(const Workplace& place) {
  return place.status == Status::converged && place.certificate.holds();
}

}  // namespace

struct Equilibrium::Impl {
  WaterSystem system;

  void dissolved(const Workplace& place, EquilibriumResult& result) const;
  void solids(const Workplace& place, EquilibriumResult& result) const;
  void gases(const Workplace& place, EquilibriumResult& result) const;
  void warnings(EquilibriumResult& result) const;
  EquilibriumResult report(const Workplace& place) const;
  void store(const Workplace& place, std::size_t r, Batch& batch) const;
  double potential(const Workplace& place, std::size_t column) const;
  std::vector<double> full_lambda(const Workplace& place) const;
};

// By system column; minus infinity for a component that is not there.
std::vector<double> Equilibrium::Impl::full_lambda(const Workplace& place) const {
  std::vector<double> lambda(system.columns.size(), kAbsent);
  for (std::size_t f = 0; f < place.water.column.size(); ++f) {
    lambda[place.water.column[f]] = place.solver.lambda[f];
  }
  return lambda;
}

double Equilibrium::Impl::potential(const Workplace& place, std::size_t column) const {
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
}

void Equilibrium::Impl::solids(const Workplace& place, EquilibriumResult& result) const {
  result.phases = system.phases.names;
  result.phase_amount.assign(result.phases.size(), 0);
  const auto tied = place.solver.ties.phases();
  for (std::size_t k = 0; k < tied.size(); ++k) {
    result.phase_amount[place.water.phases[tied[k]]] = place.solver.amount[k];
  }
  const std::vector<double> lambda = full_lambda(place);
  const double ln_water = place.inspection.values.ln_water_activity;
  for (std::size_t s = 0; s < system.solids.names.size(); ++s) {
    const double* row = system.solids.expressions.row(s);
    bool there = true;
    for (std::size_t j = 0; j < lambda.size(); ++j) there = there && (row[j] == 0 || std::isfinite(lambda[j]));
    if (!there) continue;
    double sum = system.solids.expressions.constant[s] + system.solids.expressions.water[s] * ln_water;
    for (std::size_t j = 0; j < lambda.size(); ++j) {
      if (row[j] != 0) sum += row[j] * lambda[j];
    }
    result.saturation_index[system.solids.names[s]] = sum / kLn10;
  }
}

void Equilibrium::Impl::gases(const Workplace& place, EquilibriumResult& result) const {
  const std::vector<double> lambda = full_lambda(place);
  result.gases = system.gases.names;
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    const double* row = system.gases.expressions.row(g);
    double sum = system.gases.expressions.constant[g] +
                 system.gases.expressions.water[g] * place.inspection.values.ln_water_activity;
    for (std::size_t j = 0; j < lambda.size(); ++j) {
      if (row[j] != 0) sum += row[j] * lambda[j];
    }
    result.log10_fugacity.push_back(sum / kLn10);
  }
}

void Equilibrium::Impl::warnings(EquilibriumResult& result) const {
  result.warnings = system.warnings;
  result.remarks = system.remarks;
  result.figures = system.figures;
  const double most = system.activity->ionic_strength_max();
  if (result.ionic_strength > most) {
    result.warnings.push_back("ionic strength " + format_number(result.ionic_strength, 3) +
                              " mol/kg is above the " + format_number(most, 3) + " mol/kg the " +
                              std::string(to_string(system.options.activity)) + " activity model is meant for");
  }
  if (result.water_activity > 1) {
    result.warnings.push_back("the activity model has no meaning here: it puts the water activity at " +
                              format_number(result.water_activity, 3) + ", above 1");
  }
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    if (system.gas_is_oxidant[g] == 0 || result.log10_fugacity[g] < 0) continue;
    result.warnings.push_back("water itself would decompose here: " + result.gases[g] + " at 10^" +
                              format_number(result.log10_fugacity[g], 3) + " bar");
  }
}

EquilibriumResult Equilibrium::Impl::report(const Workplace& place) const {
  EquilibriumResult result;
  result.status = place.status;
  result.certificate = place.certificate;
  result.message = failure(place.status, place.certificate);
  if (!answered(place)) {
    result.species = system.species.names;
    result.molality.assign(result.species.size(), kNan);
    result.log10_molality = result.log10_activity = result.molality;
    result.phases = system.phases.names;
    result.phase_amount.assign(result.phases.size(), kNan);
    result.ph = result.pe = result.eh_v = result.ionic_strength = result.water_activity = kNan;
    return result;
  }
  dissolved(place, result);
  solids(place, result);
  gases(place, result);
  warnings(result);
  return result;
}

Equilibrium::Equilibrium(std::shared_ptr<const Dataset> dataset, EquilibriumOptions options)
    : impl_(std::make_unique<Impl>()) {
  impl_->system = make_system(std::move(dataset), std::move(options));
}
Equilibrium::~Equilibrium() = default;
Equilibrium::Equilibrium(Equilibrium&&) noexcept = default;
Equilibrium& Equilibrium::operator=(Equilibrium&&) noexcept = default;

const EquilibriumOptions& Equilibrium::options() const { return impl_->system.options; }
const std::vector<std::string>& Equilibrium::species() const { return impl_->system.species.names; }
const std::vector<std::string>& Equilibrium::phases() const { return impl_->system.phases.names; }

EquilibriumResult Equilibrium::solve(const EquilibriumInput& input) const {
  const WaterSystem& system = impl_->system;
  const HeldWater held{input.ph, input.eh_v, input.oxygen_bar, find_gases(system, input.fugacity_bar)};
  check_held(system.options, held);
  std::vector<double> totals(system.columns.size(), 0);
  for (const auto& [name, value] : input.totals_mol_per_kg) {
    const std::vector<double> row = find_ingredient(system, name);
    const double amount = total_of(name, value);
    for (std::size_t j = 0; j < totals.size(); ++j) totals[j] += row[j] * amount;
  }
  Workplace place;
  fill_water(system, totals, held, place.water);
  solve_water(system, place);
  return impl_->report(place);
}

namespace {

// The waters of a batch as given, checked for shape once.
struct Rows {
  std::span<const std::string> ingredients;
  std::span<const double> totals, ph, redox;
  std::size_t count = 0;
  bool uses_ph = false;
  bool uses_redox = false;

  [[nodiscard]] std::span<const double> row(std::size_t r) const {
    return totals.subspan(r * ingredients.size(), ingredients.size());
  }
  [[nodiscard]] bool has_nan(std::size_t r) const {
    const auto values = row(r);
    return std::any_of(values.begin(), values.end(), [](double v) { return std::isnan(v); }) ||
           (uses_ph && std::isnan(ph[r])) || (uses_redox && std::isnan(redox[r]));
  }
};

void check_length(const char* parameter, std::size_t length, std::size_t wanted) {
  if (length == wanted) return;
  throw InputError(parameter, static_cast<double>(length),
                   std::to_string(wanted) + " values, one a water (totals: one a water and ingredient)");
}

Rows make_rows(const EquilibriumOptions& options, std::span<const std::string> ingredients,
               std::span<const double> totals, std::span<const double> ph, std::span<const double> redox) {
  Rows rows{ingredients, totals, ph, redox, 0, options.fixed_ph, options.redox != Redox::conserved};
  const std::size_t k = ingredients.size();
  rows.count = k > 0 ? totals.size() / k : (rows.uses_ph ? ph.size() : redox.size());
  check_length("totals", totals.size(), rows.count * k);
  if (rows.uses_ph) check_length("ph", ph.size(), rows.count);
  if (rows.uses_redox) check_length("redox", redox.size(), rows.count);
  return rows;
}

Equilibrium::Batch empty_batch(std::size_t n, std::size_t species, std::size_t phases) {
  Equilibrium::Batch batch;
  batch.log10_molality.assign(n * species, kNan);
  batch.phase_amount.assign(n * phases, kNan);
  batch.ph.assign(n, kNan);
  batch.eh_v = batch.ionic_strength = batch.water_activity = batch.ph;
  batch.status.assign(n, static_cast<int>(Status::infeasible));
  batch.certified.assign(n, 0);
  return batch;
}

}  // namespace

void Equilibrium::Impl::store(const Workplace& place, std::size_t r, Batch& batch) const {
  batch.status[r] = static_cast<int>(place.status);
  if (!answered(place)) return;
  batch.certified[r] = 1;
  const std::size_t species = system.species.names.size();
  double* logs = batch.log10_molality.data() + r * species;
  std::fill_n(logs, species, kAbsent);
  for (std::size_t i = 0; i < place.water.species.size(); ++i) {
    logs[place.water.species[i]] = place.solver.u[i] / kLn10;
  }
  const std::size_t phases = system.phases.names.size();
  double* amounts = batch.phase_amount.data() + r * phases;
  std::fill_n(amounts, phases, 0.0);
  const auto tied = place.solver.ties.phases();
  for (std::size_t s = 0; s < tied.size(); ++s) {
    amounts[place.water.phases[tied[s]]] = place.solver.amount[s];
  }
  batch.ph[r] = -potential(place, WaterSystem::kHydrogen);
  batch.eh_v[r] = -potential(place, WaterSystem::kElectron) * system.nernst_v;
  batch.ionic_strength[r] = place.inspection.values.ionic_strength;
  batch.water_activity[r] = std::exp(place.inspection.values.ln_water_activity);
}

Equilibrium::Batch Equilibrium::solve_many(std::span<const std::string> ingredients,
                                           std::span<const double> totals, std::span<const double> ph,
                                           std::span<const double> redox,
                                           const std::map<std::string, double>& fugacity_bar) const {
  const WaterSystem& system = impl_->system;
  const Rows rows = make_rows(system.options, ingredients, totals, ph, redox);
  std::vector<std::vector<double>> made;
  for (const auto& name : ingredients) made.push_back(find_ingredient(system, name));
  HeldWater held;
  held.gases = find_gases(system, fugacity_bar);
  Batch batch = empty_batch(rows.count, system.species.names.size(), system.phases.names.size());
  Workplace place;
  std::vector<double> sum(system.columns.size());
  for (std::size_t r = 0; r < rows.count; ++r) {
    if (rows.has_nan(r)) continue;
    try {
      std::fill(sum.begin(), sum.end(), 0.0);
      for (std::size_t c = 0; c < made.size(); ++c) {
        const double amount = total_of(ingredients[c], rows.row(r)[c]);
        for (std::size_t j = 0; j < sum.size(); ++j) sum[j] += made[c][j] * amount;
      }
      if (rows.uses_ph) held.ph = ph[r];
      if (rows.uses_redox) (system.options.redox == Redox::oxygen ? held.oxygen_bar : held.eh_v) = redox[r];
      check_held(system.options, held);
    } catch (const InputError& problem) {
      throw InputError(problem.parameter + " of water " + std::to_string(r), problem.value, problem.accepted);
    }
    fill_water(system, sum, held, place.water);
    solve_water(system, place);
    impl_->store(place, r, batch);
  }
  return batch;
}

}  // namespace aeruca
