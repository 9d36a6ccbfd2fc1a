// The convex stage: feasible active-set Newton with activity coefficients held.

#include <algorithm>
#include <cmath>

#include "equilibrium/solver.hpp"
#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {

constexpr double kTiny = 1e-290;
constexpr double kEnoughDescent = 0.3;  // |slope| at the end of an overshooting step / at its start
constexpr double kRounding = 2e-15;     // relative error of a sum of some tens of terms
constexpr double kShortStep = 0.1;      // below it the plain Newton direction is tried
constexpr double kDropAtLast = 1e-12;   // tightest ln balance asked for before a solid is let go
constexpr double kNearlyDone = 1e-6;    // ln balance below which full steps need no line search

}  // namespace

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

// Derivative of the convex objective along the direction, at a step, less what rounding may have
// made of it: a balance at 1e-30 mol/kg must move although it cannot be seen in the sum. Needs
// speed_.
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

// Step along direction_ that ends lower on the convex objective and below saturation; the solid
// that stops it, if one does.
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
    step *=
        std::clamp(first / (first - last), 0.1, 0.5);  // false position, kept away from the ends
    block = kNone;
  }
  return step;
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
