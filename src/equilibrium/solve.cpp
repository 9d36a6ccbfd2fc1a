// From nothing to an answer: start, convex stage, full stage, and what to do when the full stage
// balks.

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "equilibrium/bounds.hpp"
#include "equilibrium/solver.hpp"

namespace aeruca::detail {

namespace {

constexpr double kConvexDone = 1e-4;  // ln balance at which the full stage takes over
constexpr int kFirstGuesses = 2;
constexpr double kLittle = 0.05;  // change of ln gamma and ln a(H2O) from one guess to the next
constexpr double kSmallestShare = 5e-3;  // of ln gamma, in one step straight on

}  // namespace

// Ideal answer first; then the activity coefficients of that answer, held, for a second and third.
Status Solver::guess(int iteration_limit) {
  if (!ties.reset(*chemistry)) return Status::infeasible;
  ties_changed();
  convex_.start(*this);
  Status status = convex_.descend(*this, kConvexDone, iteration_limit);
  if (activity == nullptr) return status;
  for (int turn = 0; turn < kFirstGuesses && status == Status::converged; ++turn) {
    share = 1;
    before_ = ln_gamma;
    const double water_before = ln_water;
    update_activity();
    for (double& g : ln_gamma) g = std::clamp(g, -kFirstLnGamma, kFirstLnGamma);
    ln_water = std::clamp(ln_water, -1.0, 0.0);
    double change = std::abs(ln_water - water_before);
    for (std::size_t i = 0; i < ln_gamma.size(); ++i)
      change = std::max(change, std::abs(ln_gamma[i] - before_[i]));
    if (change < kLittle) break;  // the full stage takes it from here
    ties.complete(lambda, ln_water);
    convex_.make_feasible(*this);
    status = convex_.descend(*this, kConvexDone, iteration_limit);
  }
  return status;
}

// The pH at which the water is neutral, with the electron potential held: charge rises with the
// hydrogen potential in all but odd systems, and changes sign between the ends in every system.
Status Solver::guess_neutral(int iteration_limit) {
  const Chemistry& whole = *chemistry;
  const std::size_t column = whole.charge_column;
  held_ = whole;
  held_.charge_column = kNone;
  std::vector<double> unit(whole.columns(), 0);
  unit[column] = 1;
  held_.pinned.add(unit.data(), 0, 0);
  held_.pinned_column.push_back(column);
  chemistry = &held_;
  double low = kMostBasic;
  double high = kMostAcid;
  double at_low = -kBeyondAnyPh;
  double at_high = kBeyondAnyPh;
  double trial = -7 * kLn10;
  Status status = Status::iteration_limit;
  for (int turn = 0; turn < 60; ++turn) {
    held_.pinned.constant.back() = -trial;
    std::fill(ln_gamma.begin(), ln_gamma.end(), 0.0);
    ln_water = 0;
    status = guess(iteration_limit);
    if (status != Status::converged) break;
    const double value = charge_imbalance();
    (value < 0 ? low : high) = trial;
    (value < 0 ? at_low : at_high) = value;
    if (std::abs(value) < 1e-3 || high - low < 1e-6) break;
    const double secant = low - at_low * (high - low) / (at_high - at_low);
    const double guard = kPhGuard * (high - low);
    trial = std::clamp(turn % 3 == 2 ? 0.5 * (low + high) : secant, low + guard, high - guard);
  }
  const std::vector<std::size_t> solids(ties.phases().begin(), ties.phases().end());
  chemistry = &whole;
  if (status != Status::converged || !ties.reset(whole)) return status;
  for (const std::size_t s : solids) ties.add_phase(whole, s);
  ties_changed();
  return status;
}

Status Solver::first_guess(int iteration_limit) {
  return chemistry->charge_column == kNone ? guess(iteration_limit)
                                           : guess_neutral(iteration_limit);
}

// The first way is enough but for waters far outside the range of their activity model.
Status Solver::solve(int iteration_limit) {
  Status status = first_guess(iteration_limit);
  if (status != Status::converged) return status;
  status = full_.refine(*this, 1, iteration_limit);
  if (status == Status::converged || activity == nullptr) return status;
  return from_bare_solution(&Solver::first_guess, iteration_limit);
}

// What remains when the usual ways have led nowhere, in order of cost.
Status Solver::solve_from_ideal(int iteration_limit) {
  if (continuation(iteration_limit) == Status::converged) return Status::converged;
  if (along_curve(iteration_limit) == Status::converged) return Status::converged;
  return from_bare_solution(&Solver::along_curve, iteration_limit);
}

// The water without solids first, found by `way`; then solids one at a time.
Status Solver::from_bare_solution(Status (Solver::*way)(int), int iteration_limit) {
  solids_form = false;
  std::fill(ln_gamma.begin(), ln_gamma.end(), 0.0);
  ln_water = 0;
  const Status status = (this->*way)(iteration_limit);
  solids_form = true;
  return status == Status::converged ? full_.refine(*this, 1, iteration_limit) : status;
}

Status Solver::ideal_answer(int iteration_limit) {
  const Activity* model = activity;
  activity = nullptr;
  std::fill(ln_gamma.begin(), ln_gamma.end(), 0.0);
  ln_water = 0;
  const Status status = first_guess(iteration_limit);
  activity = model;
  return status == Status::converged ? full_.refine(*this, 0, iteration_limit) : status;
}

// From the ideal answer, which is certain, to the full one by small shares of ln gamma and ln
// a(H2O).
Status Solver::continuation(int iteration_limit) {
  if (ideal_answer(iteration_limit) != Status::converged) return Status::iteration_limit;
  double done = 0;
  double step = 0.2;
  while (done < 1 && step > kSmallestShare) {
    const std::vector<double> lambda_kept = lambda;
    const std::vector<double> u_kept = u;
    const Ties ties_kept = ties;
    const double next = std::min(1.0, done + step);
    if (full_.refine(*this, next, iteration_limit) == Status::converged) {
      done = next;
      step *= 1.6;
      continue;
    }
    lambda = lambda_kept;
    u = u_kept;
    ties = ties_kept;
    for (std::size_t i = 0; i < u.size(); ++i) molality[i] = std::exp(u[i]);
    step *= 0.4;
  }
  return done >= 1 ? Status::converged : Status::iteration_limit;
}

// The same along the curve of answers (follow.cpp), when the way is not straight.
Status Solver::along_curve(int iteration_limit) {
  Status status = ideal_answer(iteration_limit);
  if (status == Status::converged) status = curve_.follow(*this);
  return status == Status::converged ? full_.refine(*this, 1, iteration_limit) : status;
}

}  // namespace aeruca::detail
