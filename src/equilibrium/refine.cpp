// The full stage: Newton with the activity model's derivatives, exchange of solids, continuation.

#include <algorithm>
#include <cmath>

#include "equilibrium/solver.hpp"
#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {

constexpr double kResidualDone = 2e-13;  // of ln balances and ln activities, next to rounding
constexpr double kResidualGood = 3e-11;  // accepted when Newton no longer improves
constexpr double kLargestChange = 2;     // of ln molality of a species that matters, in one step
constexpr double kCoupling = 1e-7;  // share below which a species leaves the others' activity alone
constexpr double kSupersaturation = 1e-11;  // ln; the certificate asks for 1e-8
constexpr double kNegativeAmount = 1e-12;   // relative to the scarcest component
constexpr int kNewtonSteps = 40;
constexpr int kExchanges = 40;

}  // namespace

void Solver::update_activity() {
  if (activity_ == nullptr) return;
  for (std::size_t i = 0; i < u.size(); ++i) model_molality_[chemistry_->slot[i]] = molality[i];
  activity_->evaluate(model_molality_, values_);
  for (std::size_t i = 0; i < u.size(); ++i) {
    ln_gamma[i] = share_ * values_.ln_gamma[chemistry_->slot[i]];
  }
  ln_water = share_ * values_.ln_water_activity;
}

// (I + K) du = A dmu + rho with K(i,j) = d(ln gamma_i - w_i ln a_w)/d ln m_j. Species too dilute to
// move anyone's activity are left out of K, so only a block of the major ones is factored.
void Solver::solve_coupling() {
  const std::size_t n = u.size();
  const std::size_t width = ties.free().size();
  const std::size_t columns = width + 1;
  response_.resize(n * columns);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t f = 0; f < width; ++f) response_[i * columns + f] = reduced_[i * width + f];
    response_[i * columns + width] = rho_[i];
  }
  if (activity_ == nullptr) return;
  major_.clear();
  const double root = std::sqrt(std::max(values_.ionic_strength, 1e-16));
  for (std::size_t i = 0; i < n; ++i) {
    const double z = chemistry_->charge[i];
    if (molality[i] * (1 + z * z / root) > kCoupling) major_.push_back(i);
  }
  const std::size_t m = major_.size();
  const std::size_t model = model_molality_.size();
  coupling_.resize(m * m);
  right_.resize(m * columns);
  major_order_.resize(m);
  const auto element = [&](std::size_t i, std::size_t j) {
    const std::size_t si = chemistry_->slot[i];
    const std::size_t sj = chemistry_->slot[j];
    return share_ * molality[j] *
           (values_.ln_gamma_by_molality[si * model + sj] -
            reduced_water_[i] * values_.ln_water_by_molality[sj]);
  };
  for (std::size_t a = 0; a < m; ++a) {
    for (std::size_t b = 0; b < m; ++b) {
      coupling_[a * m + b] = (a == b ? 1.0 : 0.0) + element(major_[a], major_[b]);
    }
    std::copy_n(response_.begin() + static_cast<std::ptrdiff_t>(major_[a] * columns), columns,
                right_.begin() + static_cast<std::ptrdiff_t>(a * columns));
  }
  if (!lu_factor(coupling_.data(), m, m, major_order_.data())) return;
  lu_solve(coupling_.data(), m, m, major_order_.data(), right_.data(), columns, columns);
  for (std::size_t i = 0; i < n; ++i) {
    double* mine = response_.data() + i * columns;
    for (std::size_t b = 0; b < m; ++b) {
      if (major_[b] == i) continue;
      const double k = element(i, major_[b]);
      for (std::size_t c = 0; c < columns; ++c) mine[c] -= k * right_[b * columns + c];
    }
  }
  for (std::size_t a = 0; a < m; ++a) {
    std::copy_n(right_.begin() + static_cast<std::ptrdiff_t>(a * columns), columns,
                response_.begin() + static_cast<std::ptrdiff_t>(major_[a] * columns));
  }
}

bool Solver::newton_step() {
  const std::size_t n = u.size();
  const std::size_t width = ties.free().size();
  const std::size_t columns = width + 1;
  solve_coupling();
  jacobian_.assign(width * width, 0);
  direction_.assign(width, 0);
  order_.resize(width);
  for (std::size_t f = 0; f < width; ++f) direction_[f] = -residual_[f];
  for (std::size_t i = 0; i < n; ++i) {
    const double* response = response_.data() + i * columns;
    for (std::size_t f = 0; f < width; ++f) {
      const bool is_charge = ties.free()[f] == charge_row_;
      const double r = is_charge ? chemistry_->charge[i] : reduced_[i * width + f];
      if (r == 0) continue;
      const double weight = r * molality[i] / (r > 0 ? positive_[f] : negative_[f]);
      for (std::size_t g = 0; g < width; ++g) jacobian_[f * width + g] += weight * response[g];
      direction_[f] -= weight * response[width];
    }
  }
  if (!lu_factor(jacobian_.data(), width, width, order_.data())) return false;
  lu_solve(jacobian_.data(), width, width, order_.data(), direction_.data(), 1, 1);
  double total = 0;
  for (const double m : molality) total += m;
  double step = 1;
  du_.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double* response = response_.data() + i * columns;
    double change = response[width];
    for (std::size_t f = 0; f < width; ++f) change += response[f] * direction_[f];
    du_[i] = change;
    if (!std::isfinite(change)) return false;
    const double reach = std::abs(change);
    if (reach > kLargestChange && u[i] + std::max(change, 0.0) > std::log(1e-6 * total)) {
      step = std::min(step, kLargestChange / reach);
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    u[i] += step * du_[i];
    molality[i] = std::exp(std::min(u[i], 100.0));
  }
  for (std::size_t f = 0; f < width; ++f) lambda[ties.free()[f]] += step * direction_[f];
  return true;
}

// Where the pH follows from the charge, the balance of hydrogen and that of charge say the same
// once the other balances hold. The one with the smaller terms loses less to rounding: 6 mol/kg of
// dissolved oxygen drowns 1e-7 of OH(-) in the first, 6 mol/kg of a neutral salt does in the
// second.
void Solver::choose_charge_row() {
  charge_row_ = chemistry_->charge_column;
  const auto place = std::find(ties.free().begin(), ties.free().end(), chemistry_->neutral_column);
  if (place == ties.free().end()) return;
  const auto f = static_cast<std::size_t>(place - ties.free().begin());
  const std::size_t width = ties.free().size();
  double hydrogen = std::abs(reduced_totals_[f]);
  double charge = 0;
  for (std::size_t i = 0; i < u.size(); ++i) {
    hydrogen += std::abs(reduced_[i * width + f]) * molality[i];
    charge += std::abs(chemistry_->charge[i]) * molality[i];
  }
  if (charge < hydrogen) charge_row_ = *place;
}

Status Solver::newton(int iteration_limit) {
  choose_charge_row();
  double previous = 1e300;
  for (int turn = 0; turn < std::min(kNewtonSteps, iteration_limit); ++turn) {
    ++iterations;
    const double error = curve_error();
    if (!std::isfinite(error)) return Status::singular;
    if (error < kResidualDone || (error < kResidualGood && error > 0.5 * previous)) {
      return Status::converged;
    }
    previous = error;
    if (!newton_step()) return Status::singular;
  }
  return Status::iteration_limit;
}

// Newton, then solids in or out one at a time until all are right.
Status Solver::refine(double share, int iteration_limit) {
  share_ = share;
  for (int exchange = 0; exchange < kExchanges; ++exchange) {
    set_ties_changed();
    const Status status = newton(iteration_limit);
    if (status != Status::converged) return status;
    if (drop_worst(kNegativeAmount) != kNone) continue;
    if (add_worst(kSupersaturation)) continue;
    for (double& n : amount) n = std::max(n, 0.0);
    return Status::converged;
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
