// Many waters of one system, results by column.

#include <algorithm>
#include <cmath>
#include <future>
#include <thread>

#include "aeruca/constants.hpp"
#include "equilibrium/lane_batch.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca {

namespace detail {

double checked_total(const std::string& name, double value) {
  constexpr double kLeast = 1e-30;  // one atom in a million litres: less is a slip or rounding
  if (value == 0 || (value >= kLeast && value <= 1000)) return value;
  throw InputError("total of " + name, value, "0, or 1e-30 to 1000 mol/kg");
}

namespace {

std::optional<double> at(std::span<const double> values, std::size_t r) {
  return values.empty() ? std::nullopt : std::optional<double>(values[r]);
}

bool is_nan(std::optional<double> value) {
  return value && std::isnan(*value);
}

}  // namespace

bool Rows::has_nan(std::size_t r) const {
  const auto values = row(r);
  return std::any_of(values.begin(), values.end(), [](double v) { return std::isnan(v); }) ||
         is_nan(at(given->ph, r)) || is_nan(at(given->eh_v, r)) || is_nan(at(given->oxygen_bar, r));
}

HeldWater Rows::held(const EquilibriumOptions& options, std::size_t r) const {
  return held_of(options, at(given->ph, r), at(given->eh_v, r), at(given->oxygen_bar, r));
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

Rows rows_of(const WaterSystem& system, const EquilibriumRows& given) {
  check_length("totals", given.totals_mol_per_kg.size(), given.count * given.ingredients.size());
  if (!given.ph.empty()) check_length("ph", given.ph.size(), given.count);
  if (!given.eh_v.empty()) check_length("eh_v", given.eh_v.size(), given.count);
  if (!given.oxygen_bar.empty()) check_length("oxygen_bar", given.oxygen_bar.size(), given.count);
  Rows rows{&given, {}};
  for (const auto& name : given.ingredients) rows.made.push_back(find_ingredient(system, name));
  return rows;
}

Equilibrium::Batch empty_batch(std::size_t n, std::size_t species, std::size_t phases) {
  Equilibrium::Batch batch;
  batch.log10_molality.assign(n * species, kNotGiven);
  batch.solid_mol_per_kg.assign(n * phases, kNotGiven);
  batch.ph.assign(n, kNotGiven);
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
  double* amounts = batch.solid_mol_per_kg.data() + r * phases;
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

// Fills in the water of one row; InputError names the row.
void Equilibrium::Impl::fill_row(const Rows& rows, const HeldGases& gases, std::size_t r,
                                 std::vector<double>& sum, Water& water) const {
  try {
    sum.assign(system.columns.size(), 0.0);
    for (std::size_t c = 0; c < rows.made.size(); ++c) {
      const double amount = checked_total(rows.given->ingredients[c], rows.row(r)[c]);
      for (std::size_t j = 0; j < sum.size(); ++j) sum[j] += rows.made[c][j] * amount;
    }
    HeldWater held = rows.held(system.options, r);
    held.gases = gases;
    fill_water(system, sum, held, water);
  } catch (const InputError& problem) {
    throw InputError(problem.parameter + " of water " + std::to_string(r), problem.value,
                     problem.accepted);
  }
}

void Equilibrium::Impl::solve_rows(const Rows& rows, const HeldGases& gases, std::size_t first,
                                   std::size_t last, Batch& batch) const {
  Workplace place;
  std::vector<double> sum;
  LaneBatch lanes(system, batch);
  std::vector<std::size_t> alone;
  for (std::size_t r = first; r < last; ++r) {
    if (rows.has_nan(r)) continue;
    fill_row(rows, gases, r, sum, place.water);
    if (!lanes.add(place.water, r)) alone.push_back(r);
  }
  lanes.finish();
  alone.insert(alone.end(), lanes.alone().begin(), lanes.alone().end());
  for (const std::size_t r : alone) {
    fill_row(rows, gases, r, sum, place.water);
    solve_water(system, place);
    store(place, r, batch);
  }
}

Equilibrium::Batch Equilibrium::solve_many(const EquilibriumRows& given) const {
  const WaterSystem& system = impl_->system;
  const Rows rows = rows_of(system, given);
  const HeldGases gases = find_gases(system, given.fugacity_bar);
  const std::size_t n = given.count;
  Batch batch = empty_batch(n, system.species.names.size(), system.phases.names.size());
  // Every water is solved from a cold start, so the shares of the threads do not show in the
  // answers.
  const std::size_t threads = thread_count(system.options.threads, n);
  std::vector<std::future<void>> shares;
  for (std::size_t t = 1; t < threads; ++t) {
    shares.push_back(std::async(std::launch::async, [&, t] {
      impl_->solve_rows(rows, gases, n * t / threads, n * (t + 1) / threads, batch);
    }));
  }
  impl_->solve_rows(rows, gases, 0, n / threads, batch);
  for (auto& share : shares)
    share.get();  // in order of the waters: the first fault is the one told
  return batch;
}

}  // namespace aeruca
