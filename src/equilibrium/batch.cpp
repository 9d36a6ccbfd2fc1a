// Many waters of one system, results by column; and the solving of one.

#include <algorithm>
#include <cmath>
#include <future>
#include <thread>

#include "aeruca/constants.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca {

namespace detail {

void solve_water(const WaterSystem& system, Workplace& place) {
  const Chemistry& chemistry = place.water.chemistry;
  const std::size_t model_species = system.species.names.size();
  Solver& solver = place.solver;
  solver.prepare(chemistry, system.activity.get(), model_species);
  place.status = solver.solve(system.options.iteration_limit);
  place.certificate = Certificate{};
  if (place.status == Status::converged) {
    const Answer answer{solver.lambda,        solver.u,      solver.molality,
                        solver.ties.phases(), solver.amount, !system.options.fixed_ph};
    place.certificate =
        certify(chemistry, *system.activity, model_species, answer, place.inspection);
  }
  if (place.status != Status::converged)
    place.certificate.mass_balance = kNoNumber;  // holds nothing
  place.refused = place.status == Status::converged && !place.certificate.holds();
  if (place.refused) place.status = Status::iteration_limit;
  place.certificate.iterations = solver.iterations;
}

double checked_total(const std::string& name, double value) {
  constexpr double kLeast = 1e-30;  // one atom in a million litres: less is a slip or rounding
  if (value == 0 || (value >= kLeast && value <= 1000)) return value;
  throw InputError("total of " + name, value, "0, or 1e-30 to 1000 mol/kg");
}

bool Rows::has_nan(std::size_t r) const {
  const auto values = row(r);
  return std::any_of(values.begin(), values.end(), [](double v) { return std::isnan(v); }) ||
         (uses_ph && std::isnan(ph[r])) || (uses_redox && std::isnan(redox[r]));
}

}  // namespace detail

namespace {

using namespace detail;

// A thread costs some tens of microseconds: not for fewer waters than this.
constexpr std::size_t kWatersPerThread = 1000;

std::size_t thread_count(int asked, std::size_t waters) {
  const std::size_t wanted = asked > 0 ? static_cast<std::size_t>(asked)
                                       : std::max(1U, std::thread::hardware_concurrency());
  return std::clamp<std::size_t>(waters / kWatersPerThread, 1, wanted);
}

void check_length(const char* parameter, std::size_t length, std::size_t wanted) {
  if (length == wanted) return;
  throw InputError(
      parameter, static_cast<double>(length),
      std::to_string(wanted) + " values, one a water (totals: one a water and ingredient)");
}

Rows make_rows(const EquilibriumOptions& options, std::span<const std::string> ingredients,
               std::span<const double> totals, std::span<const double> ph,
               std::span<const double> redox) {
  Rows rows;
  rows.ingredients = ingredients;
  rows.totals = totals;
  rows.ph = ph;
  rows.redox = redox;
  rows.uses_ph = options.fixed_ph;
  rows.uses_redox = options.redox != Redox::conserved;
  const std::size_t k = ingredients.size();
  rows.count = k > 0 ? totals.size() / k : (rows.uses_ph ? ph.size() : redox.size());
  check_length("totals", totals.size(), rows.count * k);
  if (rows.uses_ph) check_length("ph", ph.size(), rows.count);
  if (rows.uses_redox) check_length("redox", redox.size(), rows.count);
  return rows;
}

Equilibrium::Batch empty_batch(std::size_t n, std::size_t species, std::size_t phases) {
  Equilibrium::Batch batch;
  batch.log10_molality.assign(n * species, kNoNumber);
  batch.phase_amount.assign(n * phases, kNoNumber);
  batch.ph.assign(n, kNoNumber);
  batch.eh_v = batch.ionic_strength = batch.water_activity = batch.ph;
  batch.status.assign(n, static_cast<int>(Status::infeasible));
  batch.certified.assign(n, 0);
  return batch;
}

}  // namespace

void Equilibrium::Impl::store(const Workplace& place, std::size_t r, Batch& batch) const {
  batch.status[r] = static_cast<int>(place.status);
  if (place.status != Status::converged) return;
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

void Equilibrium::Impl::solve_rows(const Rows& rows, HeldWater held, std::size_t first,
                                   std::size_t last, Batch& batch) const {
  Workplace place;
  std::vector<double> sum(system.columns.size());
  for (std::size_t r = first; r < last; ++r) {
    if (rows.has_nan(r)) continue;
    try {
      std::fill(sum.begin(), sum.end(), 0.0);
      for (std::size_t c = 0; c < rows.made.size(); ++c) {
        const double amount = checked_total(rows.ingredients[c], rows.row(r)[c]);
        for (std::size_t j = 0; j < sum.size(); ++j) sum[j] += rows.made[c][j] * amount;
      }
      if (rows.uses_ph) held.ph = rows.ph[r];
      if (rows.uses_redox)
        (system.options.redox == Redox::oxygen ? held.oxygen_bar : held.eh_v) = rows.redox[r];
      check_held(system.options, held);
    } catch (const InputError& problem) {
      throw InputError(problem.parameter + " of water " + std::to_string(r), problem.value,
                       problem.accepted);
    }
    fill_water(system, sum, held, place.water);
    solve_water(system, place);
    store(place, r, batch);
  }
}

Equilibrium::Batch Equilibrium::solve_many(
    std::span<const std::string> ingredients, std::span<const double> totals,
    std::span<const double> ph, std::span<const double> redox,
    const std::map<std::string, double>& fugacity_bar) const {
  const WaterSystem& system = impl_->system;
  Rows rows = make_rows(system.options, ingredients, totals, ph, redox);
  for (const auto& name : ingredients) rows.made.push_back(find_ingredient(system, name));
  HeldWater held;
  held.gases = find_gases(system, fugacity_bar);
  Batch batch = empty_batch(rows.count, system.species.names.size(), system.phases.names.size());
  // Every water is solved from a cold start, so the shares of the threads do not show in the
  // answers.
  const std::size_t threads = thread_count(system.options.threads, rows.count);
  std::vector<std::future<void>> shares;
  for (std::size_t t = 1; t < threads; ++t) {
    shares.push_back(std::async(std::launch::async, [&, t] {
      impl_->solve_rows(rows, held, rows.count * t / threads, rows.count * (t + 1) / threads,
                        batch);
    }));
  }
  impl_->solve_rows(rows, held, 0, rows.count / threads, batch);
  for (auto& share : shares)
    share.get();  // in order of the waters: the first fault is the one told
  return batch;
}

}  // namespace aeruca
