// The full stage: Newton with the activity model's derivatives, exchange of solids, continuation.

#include <algorithm>
#include <cmath>

#include "equilibrium/refine.hpp"
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

// (I + K) du = A dmu + rho with K(i,j) = d(ln gamma_i - w_i ln a_w)/d ln m_j. Species too dilute to
// move anyone's activity are left out of K, so only a block of the major ones is factored.
void Refinement::solve_coupling(WaterState& w) {
  const std::size_t n = w.u.size();
  const std::size_t width = w.ties.free().size();
  const std::size_t columns = width + 1;
  response_.resize(n * columns);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t f = 0; f < width; ++f) response_[i * columns + f] = w.reduced[i * width + f];
    response_[i * columns + width] = w.lack[i];
  }
  if (w.activity == nullptr) return;
  major_.clear();
  const double root = std::sqrt(std::max(w.values.ionic_strength, 1e-16));
  for (std::size_t i = 0; i < n; ++i) {
    const double z = w.chemistry->charge[i];
    if (w.molality[i] * (1 + z * z / root) > kCoupling) major_.push_back(i);
  }
  const std::size_t m = major_.size();
  const std::size_t model = w.model_molality.size();
  coupling_.resize(m * m);
  coupled_.resize(m * columns);
  coupling_order_.resize(m);
  const auto element = [&](std::size_t i, std::size_t j) {
    const std::size_t si = w.chemistry->slot[i];
    const std::size_t sj = w.chemistry->slot[j];
    return w.share * w.molality[j] *
           (w.values.ln_gamma_by_molality[si * model + sj] -
            w.reduced_water[i] * w.values.ln_water_by_molality[sj]);
  };
  for (std::size_t a = 0; a < m; ++a) {
    for (std::size_t b = 0; b < m; ++b) {
      coupling_[a * m + b] = (a == b ? 1.0 : 0.0) + element(major_[a], major_[b]);
    }
    std::copy_n(response_.begin() + static_cast<std::ptrdiff_t>(major_[a] * columns), columns,
                coupled_.begin() + static_cast<std::ptrdiff_t>(a * columns));
  }
  if (!lu_factor(coupling_.data(), m, m, coupling_order_.data())) return;
  lu_solve(coupling_.data(), m, m, coupling_order_.data(), coupled_.data(), columns, columns);
  for (std::size_t i = 0; i < n; ++i) {
    double* mine = response_.data() + i * columns;
    for (std::size_t b = 0; b < m; ++b) {
      if (major_[b] == i) continue;
      const double k = element(i, major_[b]);
      for (std::size_t c = 0; c < columns; ++c) mine[c] -= k * coupled_[b * columns + c];
    }
  }
  for (std::size_t a = 0; a < m; ++a) {
    std::copy_n(coupled_.begin() + static_cast<std::ptrdiff_t>(a * columns), columns,
                response_.begin() + static_cast<std::ptrdiff_t>(major_[a] * columns));
  }
}

bool Refinement::newton_step(WaterState& w) {
  const std::size_t n = w.u.size();
  const std::size_t width = w.ties.free().size();
  const std::size_t columns = width + 1;
  solve_coupling(w);
  jacobian_.assign(width * width, 0);
  direction_.assign(width, 0);
  order_.resize(width);
  for (std::size_t f = 0; f < width; ++f) direction_[f] = -w.residual[f];
  for (std::size_t i = 0; i < n; ++i) {
    const double* response = response_.data() + i * columns;
    for (std::size_t f = 0; f < width; ++f) {
      const bool is_charge = w.ties.free()[f] == w.charge_row;
      const double r = is_charge ? w.chemistry->charge[i] : w.reduced[i * width + f];
      if (r == 0) continue;
      const double weight = r * w.molality[i] / (r > 0 ? w.positive_part[f] : w.negative_part[f]);
      for (std::size_t g = 0; g < width; ++g) jacobian_[f * width + g] += weight * response[g];
      direction_[f] -= weight * response[width];
    }
  }
  if (!lu_factor(jacobian_.data(), width, width, order_.data())) return false;
  lu_solve(jacobian_.data(), width, width, order_.data(), direction_.data(), 1, 1);
  double total = 0;
  for (const double m : w.molality) total += m;
  double step = 1;
  change_.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double* response = response_.data() + i * columns;
    double change = response[width];
    for (std::size_t f = 0; f < width; ++f) change += response[f] * direction_[f];
    change_[i] = change;
    if (!std::isfinite(change)) return false;
    const double reach = std::abs(change);
    if (reach > kLargestChange && w.u[i] + std::max(change, 0.0) > std::log(1e-6 * total)) {
      step = std::min(step, kLargestChange / reach);
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    w.u[i] += step * change_[i];
    w.molality[i] = std::exp(std::min(w.u[i], 100.0));
  }
  for (std::size_t f = 0; f < width; ++f) w.lambda[w.ties.free()[f]] += step * direction_[f];
  return true;
}

Status Refinement::newton(WaterState& w, int iteration_limit) {
  w.choose_charge_row();
  double previous = 1e300;
  for (int turn = 0; turn < std::min(kNewtonSteps, iteration_limit); ++turn) {
    ++w.iterations;
    const double error = w.find_lack();
    if (!std::isfinite(error)) return Status::singular;
    if (error < kResidualDone || (error < kResidualGood && error > 0.5 * previous)) {
      return Status::converged;
    }
    previous = error;
    if (!newton_step(w)) return Status::singular;
  }
  return Status::iteration_limit;
}

// Newton, then solids in or out one at a time until all are right.
Status Refinement::refine(WaterState& w, double share, int iteration_limit) {
  w.share = share;
  for (int exchange = 0; exchange < kExchanges; ++exchange) {
    w.ties_changed();
    const Status status = newton(w, iteration_limit);
    if (status != Status::converged) return status;
    if (w.drop_worst(kNegativeAmount) != kNone) continue;
    if (w.add_worst(kSupersaturation)) continue;
    for (double& n : w.amount) n = std::max(n, 0.0);
    return Status::converged;
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
