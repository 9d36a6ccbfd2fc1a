// Many waters of one system: rows in, columns out; by temperature, over threads, in lanes.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/side_by_side.hpp"
#include "equilibrium/lane_batch.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca {

namespace {

using namespace detail;

// A thread costs some tens of microseconds: not for fewer waters than this.
constexpr std::size_t kWatersPerThread = 1000;
constexpr std::size_t kWatersPerLook = 256;  // whether to stop

void check_length(const char* parameter, std::size_t length, std::size_t wanted) {
  if (length == wanted) return;
  throw InputError(parameter, static_cast<double>(length),
                   std::to_string(wanted) +
                       " values, one a water (totals and fugacity_bar: one a "
                       "water and ingredient or gas)");
}

void check_shape(const EquilibriumRows& given) {
  const auto one_a_water = [&](const char* parameter, std::span<const double> values) {
    if (!values.empty()) check_length(parameter, values.size(), given.count);
  };
  check_length("totals", given.totals_mol_per_kg.size(), given.count * given.ingredients.size());
  check_length("fugacity_bar", given.fugacity_bar.size(), given.count * given.gases.size());
  one_a_water("ph", given.ph);
  one_a_water("eh_v", given.eh_v);
  one_a_water("oxygen_bar", given.oxygen_bar);
  one_a_water("water_activity", given.water_activity);
  one_a_water("temperature_c", given.temperature_c);
}

std::optional<double> at(std::span<const double> values, std::size_t r) {
  return values.empty() ? std::nullopt : std::optional<double>(values[r]);
}

std::span<const double> row_of(std::span<const double> values, std::size_t r, std::size_t width) {
  return values.subspan(r * width, width);
}

bool has_nan(const EquilibriumRows& given, std::size_t r) {
  const auto any_nan = [](std::span<const double> values) {
    return std::any_of(values.begin(), values.end(), [](double v) { return std::isnan(v); });
  };
  const auto is_nan = [r](std::span<const double> values) {
    return !values.empty() && std::isnan(values[r]);
  };
  return any_nan(row_of(given.totals_mol_per_kg, r, given.ingredients.size())) ||
         any_nan(row_of(given.fugacity_bar, r, given.gases.size())) || is_nan(given.ph) ||
         is_nan(given.eh_v) || is_nan(given.oxygen_bar) || is_nan(given.water_activity) ||
         is_nan(given.temperature_c);
}

[[noreturn]] void throw_for_row(const InputError& problem, std::size_t r) {
  throw InputError(problem.parameter + " of water " + std::to_string(r), problem.value,
                   problem.accepted);
}

// Rows of one temperature as waters of its system.
class Filler {
 public:
  Filler(const WaterSystem& system, const EquilibriumRows& given)
      : system_(system), given_(given), sum_(system.columns.size()) {
    for (const auto& name : given.ingredients)
      add_ingredient(system, name, 1, made_.emplace_back(system.columns.size(), 0.0));
    for (const auto& name : given.gases) held_.gases.emplace_back(find_gas(system, name), 0);
  }

  /// What is held; InputError names the row.
  const HeldWater& fill(std::size_t r, Water& water) {
    try {
      add_up(r);
      hold(r);
      fill_water(system_, sum_, held_, water);
    } catch (const InputError& problem) {
      throw_for_row(problem, r);
    }
    return held_;
  }

 private:
  void add_up(std::size_t r) {
    const auto totals = row_of(given_.totals_mol_per_kg, r, made_.size());
    std::fill(sum_.begin(), sum_.end(), 0.0);
    for (std::size_t c = 0; c < made_.size(); ++c) {
      const double amount = checked_total(given_.ingredients[c], totals[c]);
      for (std::size_t j = 0; j < sum_.size(); ++j) sum_[j] += made_[c][j] * amount;
    }
  }

  void hold(std::size_t r) {
    HeldGases gases = std::move(held_.gases);
    held_ = held_of(system_.options, at(given_.ph, r), at(given_.eh_v, r), at(given_.oxygen_bar, r),
                    at(given_.water_activity, r));
    const auto fugacities = row_of(given_.fugacity_bar, r, gases.size());
    for (std::size_t g = 0; g < gases.size(); ++g)
      gases[g].second = ln_fugacity(given_.gases[g], fugacities[g]);
    held_.gases = std::move(gases);
  }

  const WaterSystem& system_;
  const EquilibriumRows& given_;
  std::vector<std::vector<double>> made_;  // components in one mole of each ingredient
  std::vector<double> sum_;
  HeldWater held_;
};

RowAnswer answer_of(const Workplace& place) {
  RowAnswer answer;
  answer.water = &place.water;
  answer.ln_molality = {place.solver.u.data()};
  answer.lambda = {place.solver.lambda.data()};
  answer.solids = place.solver.ties.phases();
  answer.amount = {place.solver.amount.data()};
  answer.ln_water = place.inspection.values.ln_water_activity;
  answer.ionic_strength = place.inspection.values.ionic_strength;
  answer.solvent_kg = place.solvent_kg;
  return answer;
}

// Some rows of one temperature into their places; touches no other row.
void solve_rows(const WaterSystem& system, const EquilibriumRows& given,
                std::span<const std::size_t> rows, ColumnWriter& out, const std::stop_token& stop) {
  Filler filler(system, given);
  Workplace place;
  LaneBatch lanes(system, out);
  std::vector<std::size_t> alone;
  for (std::size_t k = 0; k < rows.size(); ++k) {
    if (k % kWatersPerLook == 0 && stop.stop_requested()) return;
    if (has_nan(given, rows[k])) {
      out.write_status(rows[k], Status::infeasible);
      continue;
    }
    filler.fill(rows[k], place.water);
    if (!lanes.add(place.water, rows[k])) alone.push_back(rows[k]);
  }
  lanes.finish();
  alone.insert(alone.end(), lanes.alone().begin(), lanes.alone().end());
  for (std::size_t k = 0; k < alone.size(); ++k) {
    if (k % kWatersPerLook == 0 && stop.stop_requested()) return;
    solve_as_asked(system, filler.fill(alone[k], place.water), place);
    if (place.status == Status::converged) {
      out.write(alone[k], answer_of(place));
    } else {
      out.write_status(alone[k], place.status);
    }
  }
}

// The same system at another temperature, without what the whole one leaves out.
WaterSystem system_at(const WaterSystem& whole, double temperature_c) {
  EquilibriumOptions options = whole.options;
  options.temperature_c = temperature_c;
  WaterSystem system = make_system(whole.dataset, options);
  const auto leave_out = [&](const Members& members, const Members& wanted) {
    for (const auto& name : members.names) {
      const auto& names = wanted.names;
      if (std::find(names.begin(), names.end(), name) == names.end())
        options.left_out.push_back(name);
    }
  };
  const std::size_t before = options.left_out.size();
  leave_out(system.species, whole.species);
  leave_out(system.phases, whole.phases);
  return options.left_out.size() == before ? std::move(system)
                                           : make_system(whole.dataset, options);
}

// Rows by temperature, those of one as they came; NaN first.
std::vector<std::size_t> order_of(const EquilibriumRows& given) {
  std::vector<std::size_t> order(given.count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto colder = [&](std::size_t a, std::size_t b) {
    const double t = given.temperature_c[a];
    const double other = given.temperature_c[b];
    return std::isnan(t) ? !std::isnan(other) : t < other;
  };
  if (!given.temperature_c.empty()) std::stable_sort(order.begin(), order.end(), colder);
  return order;
}

// A share of the ordered rows, one temperature after the other.
void solve_share(const WaterSystem& whole, const EquilibriumRows& given,
                 std::span<const std::size_t> rows, EquilibriumBatch& batch,
                 const std::stop_token& stop) {
  const auto temperature = [&](std::size_t r) {
    const double t = at(given.temperature_c, r).value_or(whole.options.temperature_c);
    return std::isnan(t) ? whole.options.temperature_c : t;
  };
  while (!rows.empty() && !stop.stop_requested()) {
    const double t = temperature(rows.front());
    const auto end =
        std::find_if(rows.begin(), rows.end(), [&](std::size_t r) { return temperature(r) != t; });
    const auto these = rows.first(static_cast<std::size_t>(end - rows.begin()));
    rows = rows.subspan(these.size());
    std::optional<WaterSystem> other;
    try {
      if (t != whole.options.temperature_c) other = system_at(whole, t);
    } catch (const InputError& problem) {
      throw_for_row(problem, these.front());
    }
    const WaterSystem& system = other ? *other : whole;
    ColumnWriter out(whole, system, batch);
    solve_rows(system, given, these, out, stop);
  }
}

}  // namespace

double detail::checked_total(const std::string& name, double value) {
  constexpr double kLeast = 1e-30;  // one atom in a million litres: less is a slip or rounding
  if (value == 0 || (value >= kLeast && value <= 1000)) return value;
  throw InputError("total of " + name, value, "0, or 1e-30 to 1000 mol/kg");
}

EquilibriumBatch Equilibrium::solve_many(const EquilibriumRows& given, const BatchChoice& choice,
                                         const std::stop_token& stop) const {
  const WaterSystem& system = impl_->system;
  check_shape(given);
  const Filler names(system, given);  // refuses them, though there be no rows
  const std::size_t n = given.count;
  Batch batch = make_batch(system, choice, n);
  const std::vector<std::size_t> order = order_of(given);
  // Every water is solved from a cold start, so the shares of the threads do not show in the
  // answers.
  const int asked = system.options.threads;
  const std::size_t shares = thread_count(asked, std::max<std::size_t>(n / kWatersPerThread, 1));
  side_by_side(shares, asked, [&](std::size_t t) {
    const std::size_t first = n * t / shares;
    const std::size_t last = n * (t + 1) / shares;
    solve_share(system, given, std::span(order).subspan(first, last - first), batch, stop);
  });
  return batch;
}

}  // namespace aeruca
