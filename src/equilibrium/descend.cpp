// The convex stage: start and feasible active-set Newton with activity coefficients held.

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "equilibrium/solver.hpp"
#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {

constexpr double kLargestExponent = 230;    // exp stays finite, and so do sums and products of two
constexpr double kTiny = 1e-290;
constexpr double kOnTheLine = 1e-9;         // ln saturation counted as saturated
constexpr double kEnoughDescent = 0.3;      // |slope| at the end of an overshooting step / at its start
constexpr double kRounding = 2e-15;          // relative error of a sum of some tens of terms
constexpr double kShortStep = 0.1;           // below it the plain Newton direction is tried
constexpr double kDropAtLast = 1e-12;        // tightest ln balance asked for before a solid is let go
constexpr double kNearlyDone = 1e-6;        // ln balance below which full steps need no line search

double bounded_exp(double exponent) { return std::exp(std::min(exponent, kLargestExponent)); }

}  // namespace

void Solver::prepare(const Chemistry& chemistry, const Activity* activity,
                     std::size_t model_species) {
  chemistry_ = &chemistry;
  activity_ = activity;
  model_molality_.assign(model_species, 0);
  const std::size_t n = chemistry.species.size();
  ln_gamma.assign(n, 0);
  ln_water = 0;
  u.assign(n, 0);
  molality.assign(n, 0);
  lambda.assign(chemistry.columns(), 0);
  amount.clear();
  iterations = 0;
}

void Solver::set_ties_changed() {
  const std::size_t n = chemistry_->species.size();
  const std::size_t width = ties.free().size();
  reduced_.resize(n * width);
  reduced_water_.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    ties.reduce_row(chemistry_->species.row(i), chemistry_->species.water[i], reduced_.data() + i * width,
                    reduced_water_[i]);
  }
  ties.reduce_totals(*chemistry_, reduced_totals_);
}

void Solver::evaluate_species() {
  for (std::size_t i = 0; i < u.size(); ++i) {
    u[i] = chemistry_->species.value(i, lambda.data(), ln_water) - ln_gamma[i];
    molality[i] = bounded_exp(u[i]);
  }
}

void Solver::start() {
  for (std::size_t j = 0; j < chemistry_->columns(); ++j) {
    switch (chemistry_->kind[j]) {
      case ColumnKind::mass: lambda[j] = std::log(std::max(chemistry_->totals[j], kTiny)); break;
      case ColumnKind::hydrogen: lambda[j] = -7 * kLn10; break;
      case ColumnKind::electron: lambda[j] = -4 * kLn10; break;
    }
  }
  ties.complete(lambda, ln_water);
  evaluate_species();
  sweep(4);
  make_feasible();
}

// Each free potential in turn to its own logarithmic balance.
void Solver::sweep(int times) {
  const std::size_t width = ties.free().size();
  for (int round = 0; round < times; ++round) {
    for (std::size_t f = 0; f < width; ++f) {
      double positive = std::max(-reduced_totals_[f], kTiny);
      double negative = std::max(reduced_totals_[f], kTiny);
      double up = 0;
      double down = 0;
      for (std::size_t i = 0; i < u.size(); ++i) {
        const double r = reduced_[i * width + f];
        if (r > 0) {
          positive += r * molality[i];
          up += r * r * molality[i];
        } else if (r < 0) {
          negative -= r * molality[i];
          down += r * r * molality[i];
        }
      }
      const double curvature = up / positive + down / negative;
      if (!(curvature > 1e-6)) continue;
      const double change = std::clamp(-std::log(positive / negative) / curvature, -60.0, 60.0);
      lambda[ties.free()[f]] += change;
      for (std::size_t i = 0; i < u.size(); ++i) {
        const double r = reduced_[i * width + f];
        if (r == 0) continue;
        u[i] += r * change;
        molality[i] = bounded_exp(u[i]);
      }
    }
  }
  ties.complete(lambda, ln_water);
}

// Lowers, for each supersaturated solid in turn, the potential of the component that it would use up
// first; solids hold their components with positive coefficients, so none of the others gains by it.
void Solver::make_feasible() {
  const Expressions& phases = chemistry_->phases;
  std::vector<std::size_t> lowered;
  for (std::size_t s = 0; s < phases.size() && solids_form_; ++s) {
    if (ties.holds_phase(s)) continue;
    const double excess = phases.value(s, lambda.data(), ln_water);
    if (excess <= 0) continue;
    std::size_t column = kNone;
    double least = std::numeric_limits<double>::infinity();
    for (const std::size_t j : ties.free()) {
      if (chemistry_->kind[j] != ColumnKind::mass || phases.row(s)[j] <= 0) continue;
      const double available = chemistry_->totals[j] / phases.row(s)[j];
      if (available >= least) continue;
      least = available;
      column = j;
    }
    if (column == kNone) continue;
    lambda[column] -= excess / phases.row(s)[column];
    ties.complete(lambda, ln_water);
    lowered.push_back(s);
  }
  for (const std::size_t s : lowered) {
    if (std::abs(phases.value(s, lambda.data(), ln_water)) < kOnTheLine) ties.add_phase(*chemistry_, s);
  }
  ties.complete(lambda, ln_water);
  set_ties_changed();
  evaluate_species();
}

void Solver::assemble_balances() {
  const std::size_t width = ties.free().size();
  positive_.resize(width);
  negative_.resize(width);
  residual_.resize(width);
  for (std::size_t f = 0; f < width; ++f) {
    const bool is_charge = ties.free()[f] == charge_row_;
    double positive = is_charge ? 0 : std::max(-reduced_totals_[f], 0.0);
    double negative = is_charge ? 0 : std::max(reduced_totals_[f], 0.0);
    for (std::size_t i = 0; i < u.size(); ++i) {
      const double r = is_charge ? chemistry_->charge[i] : reduced_[i * width + f];
      const double part = r * molality[i];
      if (part > 0) {
        positive += part;
      } else {
        negative -= part;
      }
    }
    positive_[f] = std::max(positive, kTiny);
    negative_[f] = std::max(negative, kTiny);
    residual_[f] = std::log(positive_[f] / negative_[f]);
  }
}

double Solver::largest_residual() const {
  double largest = 0;
  for (const double r : residual_) largest = std::max(largest, std::abs(r));
  return largest;
}

bool Solver::logarithmic_direction() {
  const std::size_t width = ties.free().size();
  jacobian_.assign(width * width, 0);
  direction_.resize(width);
  order_.resize(width);
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double* row = reduced_.data() + i * width;
    for (std::size_t f = 0; f < width; ++f) {
      if (row[f] == 0) continue;
      const double weight = row[f] * molality[i] / (row[f] > 0 ? positive_[f] : negative_[f]);
      for (std::size_t g = 0; g < width; ++g) jacobian_[f * width + g] += weight * row[g];
    }
  }
  for (std::size_t f = 0; f < width; ++f) direction_[f] = -residual_[f];
  if (!lu_factor(jacobian_.data(), width, width, order_.data())) return false;
  lu_solve(jacobian_.data(), width, width, order_.data(), direction_.data(), 1, 1);
  for (const double d : direction_) {
    if (!std::isfinite(d)) return false;
  }
  double noise = 0;
  for (std::size_t f = 0; f < width; ++f) {
    noise += (positive_[f] + negative_[f]) * std::abs(direction_[f]);
  }
  return slope() < kRounding * noise;
}

// Plain Newton with rows and columns scaled to a unit diagonal and small pivots lifted.
void Solver::newton_direction() {
  const std::size_t width = ties.free().size();
  jacobian_.assign(width * width, 0);
  direction_.resize(width);
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double* row = reduced_.data() + i * width;
    for (std::size_t f = 0; f < width; ++f) {
      if (row[f] == 0) continue;
      const double weight = row[f] * molality[i];
      for (std::size_t g = 0; g <= f; ++g) jacobian_[f * width + g] += weight * row[g];
    }
  }
  right_.resize(width);
  for (std::size_t f = 0; f < width; ++f) {
    right_[f] = 1 / std::sqrt(std::max(jacobian_[f * width + f], kTiny));
  }
  for (std::size_t f = 0; f < width; ++f) {
    for (std::size_t g = 0; g <= f; ++g) jacobian_[f * width + g] *= right_[f] * right_[g];
    direction_[f] = -(positive_[f] - negative_[f]) * right_[f];
  }
  cholesky_factor(jacobian_.data(), width, width, 1e-13);
  cholesky_solve(jacobian_.data(), width, width, direction_.data());
  for (std::size_t f = 0; f < width; ++f) direction_[f] *= right_[f];
}

double Solver::slope() const {
  double sum = 0;
  for (std::size_t f = 0; f < direction_.size(); ++f) {
    sum += (positive_[f] - negative_[f]) * direction_[f];
  }
  return sum;
}

// Derivative of the convex objective along the direction, at a step, less what rounding may have made
// of it: a balance at 1e-30 mol/kg must move although it cannot be seen in the sum. Needs speed_.
double Solver::slope_at(double step) {
  double sum = 0;
  double size = 0;
  for (std::size_t f = 0; f < direction_.size(); ++f) {
    const double part = reduced_totals_[f] * direction_[f];
    sum -= part;
    size += std::abs(part);
  }
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double part = speed_[i] * bounded_exp(u[i] + step * speed_[i]);
    sum += part;
    size += std::abs(part);
  }
  return sum - kRounding * size;
}

void Solver::move(double step) {
  for (std::size_t f = 0; f < direction_.size(); ++f) {
    lambda[ties.free()[f]] += step * direction_[f];
  }
  ties.complete(lambda, ln_water);
  evaluate_species();
}

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
    double most = kTiny;
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

// Step along direction_ that ends lower on the convex objective and below saturation; the solid that
// stops it, if one does.
double Solver::search(bool exact, std::size_t& block) {
  const std::size_t width = ties.free().size();
  full_direction_.assign(chemistry_->columns(), 0);
  for (std::size_t f = 0; f < width; ++f) full_direction_[ties.free()[f]] = direction_[f];
  ties.complete_direction(full_direction_);
  double step = 1;
  block = blocking_phase(step);
  if (exact || step == 0) return step;
  speed_.resize(u.size());
  for (std::size_t i = 0; i < u.size(); ++i) {
    double sum = 0;
    for (std::size_t f = 0; f < width; ++f) sum += reduced_[i * width + f] * direction_[f];
    speed_[i] = sum;
  }
  const double first = slope();
  for (int probe = 0; probe < 40; ++probe) {
    const double last = slope_at(step);
    if (last <= kEnoughDescent * std::abs(first)) break;
    step *= std::clamp(first / (first - last), 0.1, 0.5);  // false position, kept away from the ends
    block = kNone;
  }
  return step;
}

bool Solver::tie_phase(std::size_t phase) {
  if (!ties.add_phase(*chemistry_, phase)) return false;
  ties.complete(lambda, ln_water);
  set_ties_changed();
  evaluate_species();
  return true;
}

Status Solver::descend(double tolerance, int iteration_limit) {
  bool plain = false;
  std::size_t let_go = kNone;
  double drop_tolerance = tolerance;
  charge_row_ = kNone;
  for (int turn = 0; turn < iteration_limit; ++turn) {
    ++iterations;
    assemble_balances();
    const double error = largest_residual();
    if (error < drop_tolerance) {
      let_go = drop_worst(1e-12);
      if (let_go == kNone) return Status::converged;
      plain = true;
      continue;
    }
    const bool exact = error < kNearlyDone;
    std::size_t block = kNone;
    double step = 0;
    if (!plain && logarithmic_direction()) step = search(exact, block);
    if (step < kShortStep && block == kNone) {
      newton_direction();
      step = search(exact, block);
    }
    plain = false;
    move(step);
    if (block == kNone) continue;
    plain = step == 0;
    // A solid just let go that comes back at once was judged too early.
    if (block == let_go) drop_tolerance = std::max(kDropAtLast, 0.01 * drop_tolerance);
    if (!tie_phase(block)) return Status::singular;
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
