// Solids in and out: which one is reached, which one leaves, how much there is of each.

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/not_given.hpp"
#include "equilibrium/water_state.hpp"

namespace aeruca::detail {

bool WaterState::tie_phase(std::size_t phase) {
  if (!ties.add_phase(*chemistry, phase)) return false;
  ties.complete(lambda, ln_water);
  ties_changed();
  evaluate_species();
  return true;
}

void WaterState::find_amounts() {
  dissolved.assign(chemistry->columns(), 0);
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double* row = chemistry->species.row(i);
    for (std::size_t j = 0; j < dissolved.size(); ++j) dissolved[j] += row[j] * molality[i];
  }
  if (!ties.amounts(*chemistry, dissolved, all_amounts))
    std::fill(all_amounts.begin(), all_amounts.end(), kNotGiven);
  amount.assign(all_amounts.begin() + static_cast<std::ptrdiff_t>(chemistry->pinned.size()),
                all_amounts.end());
}

// Lets go the solid with the most negative amount, relative to what its scarcest component allows.
std::size_t WaterState::drop_worst(double tolerance) {
  amount.clear();
  if (ties.phases().empty()) return kNone;
  find_amounts();
  std::size_t worst = kNone;
  double lowest = -tolerance;
  for (std::size_t k = 0; k < amount.size(); ++k) {
    const double* row = chemistry->phases.row(ties.phases()[k]);
    double most = std::numeric_limits<double>::min();
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < chemistry->columns(); ++j) {
      if (chemistry->kind[j] != ColumnKind::mass || row[j] <= 0) continue;
      most = std::max(most, chemistry->totals[j] / row[j]);
      least = std::min(least, chemistry->totals[j] / row[j]);
    }
    const double relative = amount[k] / (std::isfinite(least) && least > 0 ? least : most);
    if (relative < lowest) {
      lowest = relative;
      worst = k;
    }
  }
  if (worst == kNone) return kNone;
  const std::size_t phase = ties.phases()[worst];
  ties.drop_phase(*chemistry, worst);
  ties_changed();
  return phase;
}

// A trace of a solid whose scarcest component is dissolved by the mole: a trace of cassiterite in
// strong tin(II) chloride is known from the electrons that it took.
bool WaterState::tie_anew() {
  constexpr double kTrace = 1e-5;
  const std::size_t pinned = chemistry->pinned.size();
  const auto drowned = [&](std::size_t k) {
    return amount[k] < kTrace * std::abs(dissolved[ties.pivots()[pinned + k]]);
  };
  std::size_t k = 0;
  while (k < amount.size() && !drowned(k)) ++k;
  if (k == amount.size()) return false;
  std::vector<double> holds(chemistry->columns(), 0);
  for (std::size_t j = 0; j < holds.size(); ++j) {
    holds[j] = std::abs(chemistry->totals[j]);
    for (std::size_t i = 0; i < u.size(); ++i)
      holds[j] += std::abs(chemistry->species.row(i)[j]) * molality[i];
  }
  const std::vector<std::size_t> before(ties.pivots().begin(), ties.pivots().end());
  ties.choose_again(*chemistry, holds);
  return !std::equal(before.begin(), before.end(), ties.pivots().begin(), ties.pivots().end());
}

bool WaterState::add_worst(double tolerance) {
  const Expressions& phases = chemistry->phases;
  std::size_t worst = kNone;
  double highest = tolerance;
  for (std::size_t s = 0; s < phases.size() && solids_form; ++s) {
    if (ties.holds_phase(s)) continue;
    const double value = phases.value(s, lambda.data(), ln_water);
    if (value > highest) {
      highest = value;
      worst = s;
    }
  }
  if (worst == kNone) return false;
  return ties.add_phase(*chemistry, worst) || ties.exchange_phase(*chemistry, worst, amount);
}

}  // namespace aeruca::detail
