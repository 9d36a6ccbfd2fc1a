// The convex stage: feasible active-set Newton with activity coefficients held.

#include "equilibrium/descend.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/not_given.hpp"
#include "equilibrium/bounds.hpp"
#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {

constexpr double kShortStep = 0.1;     // below it the plain Newton direction is tried
constexpr double kDropAtLast = 1e-12;  // tightest ln balance asked for before a solid is let go
constexpr double kNearlyDone = 1e-6;   // ln balance below which full steps need no line search

}  // namespace

bool Descent::logarithmic_direction(WaterState& w) {
  const std::size_t width = w.ties.free().size();
  jacobian_.assign(width * width, 0);
  direction_.resize(width);
  order_.resize(width);
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    const double* row = w.reduced.data() + i * width;
    for (std::size_t f = 0; f < width; ++f) {
      if (row[f] == 0) continue;
      const double weight =
          row[f] * w.molality[i] / (row[f] > 0 ? w.positive_part[f] : w.negative_part[f]);
      for (std::size_t g = 0; g < width; ++g) jacobian_[f * width + g] += weight * row[g];
    }
  }
  for (std::size_t f = 0; f < width; ++f) direction_[f] = -w.residual[f];
  if (!lu_factor(jacobian_.data(), width, width, order_.data())) return false;
  lu_solve(jacobian_.data(), width, width, order_.data(), direction_.data(), 1, 1);
  for (const double d : direction_) {
    if (!std::isfinite(d)) return false;
  }
  double noise = 0;
  for (std::size_t f = 0; f < width; ++f) {
    noise += (w.positive_part[f] + w.negative_part[f]) * std::abs(direction_[f]);
  }
  return slope(w) < kRoundingOfSum * noise;
}

// Plain Newton with rows and columns scaled to a unit diagonal and small pivots lifted.
void Descent::newton_direction(WaterState& w) {
  const std::size_t width = w.ties.free().size();
  jacobian_.assign(width * width, 0);
  direction_.resize(width);
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    const double* row = w.reduced.data() + i * width;
    for (std::size_t f = 0; f < width; ++f) {
      if (row[f] == 0) continue;
      const double weight = row[f] * w.molality[i];
      for (std::size_t g = 0; g <= f; ++g) jacobian_[f * width + g] += weight * row[g];
    }
  }
  scale_.resize(width);
  for (std::size_t f = 0; f < width; ++f) {
    scale_[f] = 1 / std::sqrt(std::max(jacobian_[f * width + f], kTinyPart));
  }
  for (std::size_t f = 0; f < width; ++f) {
    for (std::size_t g = 0; g <= f; ++g) jacobian_[f * width + g] *= scale_[f] * scale_[g];
    direction_[f] = -(w.positive_part[f] - w.negative_part[f]) * scale_[f];
  }
  cholesky_factor(jacobian_.data(), width, width, 1e-13);
  cholesky_solve(jacobian_.data(), width, width, direction_.data());
  for (std::size_t f = 0; f < width; ++f) direction_[f] *= scale_[f];
}

double Descent::slope(WaterState& w) const {
  double sum = 0;
  for (std::size_t f = 0; f < direction_.size(); ++f) {
    sum += (w.positive_part[f] - w.negative_part[f]) * direction_[f];
  }
  return sum;
}

// Derivative of the convex objective along the direction, at a step, less what rounding may have
// made of it: a balance at 1e-30 mol/kg must move although it cannot be seen in the sum. Needs
// speed_.
double Descent::slope_at(WaterState& w, double step) {
  double sum = 0;
  double size = 0;
  for (std::size_t f = 0; f < direction_.size(); ++f) {
    const double part = w.reduced_totals[f] * direction_[f];
    sum -= part;
    size += std::abs(part);
  }
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    trial_[i] = bounded_exp(w.u[i] + step * speed_[i]);
    const double part = speed_[i] * trial_[i];
    sum += part;
    size += std::abs(part);
  }
  return sum - kRoundingOfSum * size;
}

void Descent::move(WaterState& w, double step) {
  for (std::size_t f = 0; f < direction_.size(); ++f) {
    w.lambda[w.ties.free()[f]] += step * direction_[f];
  }
  w.ties.complete(w.lambda, w.ln_water);
  if (step != trial_step_) {
    w.evaluate_species();
    return;
  }
  for (std::size_t i = 0; i < w.u.size(); ++i) w.u[i] += step * speed_[i];
  std::swap(w.molality, trial_);
}

// First solid that becomes saturated along the direction, and the step that takes it there.
std::size_t Descent::blocking_phase(WaterState& w, double& step) const {
  const Expressions& phases = w.chemistry->phases;
  std::size_t block = kNone;
  for (std::size_t s = 0; s < phases.size() && w.solids_form; ++s) {
    if (w.ties.holds_phase(s)) continue;
    const double* row = phases.row(s);
    double rate = 0;
    double size = 0;
    for (std::size_t j = 0; j < phases.columns; ++j) {
      const double part = row[j] * full_direction_[j];
      rate += part;
      size += std::abs(part);
    }
    if (rate <= 1e-12 * size) continue;
    const double room = std::max(-phases.value(s, w.lambda.data(), w.ln_water), 0.0);
    if (room >= step * rate) continue;
    step = room / rate;
    block = s;
  }
  return block;
}

// Step along direction_ that ends lower on the convex objective and below saturation; the solid
// that stops it, if one does.
double Descent::search(WaterState& w, bool exact, std::size_t& block) {
  const std::size_t width = w.ties.free().size();
  full_direction_.assign(w.chemistry->columns(), 0);
  for (std::size_t f = 0; f < width; ++f) full_direction_[w.ties.free()[f]] = direction_[f];
  w.ties.complete_direction(full_direction_);
  double step = 1;
  trial_step_ = kNotGiven;
  block = blocking_phase(w, step);
  if (exact || step == 0) return step;
  speed_.resize(w.u.size());
  trial_.resize(w.u.size());
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    double sum = 0;
    for (std::size_t f = 0; f < width; ++f) sum += w.reduced[i * width + f] * direction_[f];
    speed_[i] = sum;
  }
  const double first = slope(w);
  for (int probe = 0; probe < 40; ++probe) {
    const double last = slope_at(w, step);
    trial_step_ = step;
    if (last <= kDescentEnough * std::abs(first)) break;
    step *=
        std::clamp(first / (first - last), 0.1, 0.5);  // false position, kept away from the ends
    block = kNone;
  }
  return step;
}

Status Descent::descend(WaterState& w, double tolerance, int iteration_limit) {
  bool plain = false;
  std::size_t let_go = kNone;
  double drop_tolerance = tolerance;
  w.by_charge = false;
  w.valence.place = kNone;
  for (int turn = 0; turn < iteration_limit; ++turn) {
    ++w.iterations;
    w.assemble_balances();
    const double error = w.largest_residual();
    if (error < drop_tolerance) {
      let_go = w.drop_worst(1e-12);
      if (let_go == kNone) return Status::converged;
      plain = true;
      continue;
    }
    const bool exact = error < kNearlyDone;
    std::size_t block = kNone;
    double step = 0;
    if (!plain && logarithmic_direction(w)) step = search(w, exact, block);
    if (step < kShortStep && block == kNone) {
      newton_direction(w);
      step = search(w, exact, block);
    }
    plain = false;
    move(w, step);
    if (block == kNone) continue;
    plain = step == 0;
    // A solid just let go that comes back at once was judged too early.
    if (block == let_go) drop_tolerance = std::max(kDropAtLast, 0.01 * drop_tolerance);
    if (!w.tie_phase(block)) return Status::singular;
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
