// Solids in and out: which one is reached, which one leaves, how much there is of each.

#include <algorithm>
#include <cmath>
#include <limits>

#include "equilibrium/solver.hpp"

namespace aeruca::detail {

// First solid that becomes saturated along the direction, and the step that takes it there.
std::size_t Solver::blocking_phase(double& step) const {
  const Expressions& phases = chemistry_->phases;
  std::size_t block = kNone;
  for (std::size_t s = 0; s < phases.size() && solids_form_; ++s) {
    if (ties.holds_phase(s)) continue;
    const double* row = phases.row(s);
    double rate = 0;
    double size = 0;
    for (std::size_t j = 0; j < phases.columns; ++j) {
      const double part = row[j] * full_direction_[j];
      rate += part;
      size += std::abs(part);
    }
    if (rate <= 1e-12 * size) continue;
    const double room = std::max(-phases.value(s, lambda.data(), ln_water), 0.0);
    if (room >= step * rate) continue;
    step = room / rate;
    block = s;
  }
  return block;
}

bool Solver::tie_phase(std::size_t phase) {
  if (!ties.add_phase(*chemistry_, phase)) return false;
  ties.complete(lambda, ln_water);
  set_ties_changed();
  evaluate_species();
  return true;
}

bool Solver::find_amounts() {
  dissolved_.assign(chemistry_->columns(), 0);
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double* row = chemistry_->species.row(i);
    for (std::size_t j = 0; j < dissolved_.size(); ++j) dissolved_[j] += row[j] * molality[i];
  }
  if (!ties.amounts(*chemistry_, dissolved_, all_amounts_)) return false;
  amount.assign(all_amounts_.begin() + static_cast<std::ptrdiff_t>(chemistry_->pinned.size()),
                all_amounts_.end());
  return true;
}

// Lets go the solid with the most negative amount, relative to what its scarcest component allows.
std::size_t Solver::drop_worst(double tolerance) {
  find_amounts();
  std::size_t worst = kNone;
  double lowest = -tolerance;
  for (std::size_t k = 0; k < amount.size(); ++k) {
    const double* row = chemistry_->phases.row(ties.phases()[k]);
    double most = std::numeric_limits<double>::min();
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < chemistry_->columns(); ++j) {
      if (chemistry_->kind[j] != ColumnKind::mass || row[j] <= 0) continue;
      most = std::max(most, chemistry_->totals[j] / row[j]);
      least = std::min(least, chemistry_->totals[j] / row[j]);
    }
    const double relative = amount[k] / (std::isfinite(least) && least > 0 ? least : most);
    if (relative < lowest) {
      lowest = relative;
      worst = k;
    }
  }
  if (worst == kNone) return kNone;
  const std::size_t phase = ties.phases()[worst];
  ties.drop_phase(*chemistry_, worst);
  set_ties_changed();
  return phase;
}

bool Solver::add_worst(double tolerance) {
  const Expressions& phases = chemistry_->phases;
  std::size_t worst = kNone;
  double highest = tolerance;
  for (std::size_t s = 0; s < phases.size() && solids_form_; ++s) {
    if (ties.holds_phase(s)) continue;
    const double value = phases.value(s, lambda.data(), ln_water);
    if (value > highest) {
      highest = value;
      worst = s;
    }
  }
  if (worst == kNone) return false;
  return ties.add_phase(*chemistry_, worst) || ties.exchange_phase(*chemistry_, worst, amount);
}

}  // namespace aeruca::detail
