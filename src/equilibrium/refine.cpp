// The full stage: Newton with the activity model's derivatives, exchange of solids, continuation.

#include <algorithm>
#include <cmath>

#include "equilibrium/bounds.hpp"
#include "equilibrium/refine.hpp"
#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {

constexpr double kLikelyDone = 1e-6;  // after the next step, Newton being quadratic
constexpr int kNewtonSteps = 40;
constexpr int kExchanges = 40;

}  // namespace

// Species too dilute to move anyone's activity are left out of K, so only a block of the major ones
// is factored.
void Refinement::list_major(const WaterState& w) {
  major_.clear();
  is_major_.assign(w.u.size(), 0);
  const double root = std::sqrt(std::max(w.values.ionic_strength, 1e-16));
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    const double z = w.chemistry->charge[i];
    if (!(w.molality[i] * (1 + z * z / root) > kMajorShare)) continue;
    is_major_[i] = 1;
    major_.push_back(i);
  }
  const std::size_t m = major_.size();
  slot_.resize(m);
  moles_.resize(m);
  to_water_.resize(m);
  for (std::size_t b = 0; b < m; ++b) {
    slot_[b] = w.chemistry->slot[major_[b]];
    moles_[b] = w.share * w.molality[major_[b]];
    to_water_[b] = moles_[b] * w.values.ln_water_by_molality[slot_[b]];
  }
}

// (I + K) X = R for the major species, with
//   K(i,j) = d(ln gamma_i - w_i ln a_w)/d ln m_j = m_j (d ln gamma_i/dm_j - w_i d ln a_w/dm_j).
bool Refinement::solve_major(const WaterState& w, std::size_t columns) {
  const std::size_t m = major_.size();
  coupling_.resize(m * m);
  coupled_.resize(m * columns);
  coupling_order_.resize(m);
  for (std::size_t a = 0; a < m; ++a) {
    const std::size_t i = major_[a];
    const double* slopes = slopes_of(w, i);
    double* row = coupling_.data() + a * m;
    for (std::size_t b = 0; b < m; ++b)
      row[b] = moles_[b] * slopes[slot_[b]] - w.reduced_water[i] * to_water_[b];
    row[a] += 1;
    std::copy_n(response_.data() + i * columns, columns, coupled_.data() + a * columns);
  }
  if (!lu_factor(coupling_.data(), m, m, coupling_order_.data())) return false;
  lu_solve(coupling_.data(), m, m, coupling_order_.data(), coupled_.data(), columns, columns);
  return true;
}

const double* Refinement::slopes_of(const WaterState& w, std::size_t i) {
  return w.values.ln_gamma_by_molality.data() + w.chemistry->slot[i] * w.model_molality.size();
}

bool Refinement::moves_water_alone(const WaterState& w) const {
  return std::all_of(major_.begin(), major_.end(), [&](std::size_t i) {
    const double* slopes = slopes_of(w, i);
    return std::all_of(slot_.begin(), slot_.end(), [=](std::size_t s) { return slopes[s] == 0; });
  });
}

// Of an ideal solution K = -w W' with W_j = m_j d ln a_w/dm_j alone, so that X = R + w Y with
// Y = W' X = W' R / (1 - W' w) (Sherman and Morrison).
void Refinement::couple_through_water(const WaterState& w, std::size_t columns) {
  double left = 1;
  for (std::size_t b = 0; b < major_.size(); ++b) {
    const double* mine = response_.data() + major_[b] * columns;
    left -= to_water_[b] * w.reduced_water[major_[b]];
    for (std::size_t c = 0; c < columns; ++c) by_water_[c] += to_water_[b] * mine[c];
  }
  for (double& part : by_water_) part /= left;
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    if (w.reduced_water[i] == 0) continue;
    double* mine = response_.data() + i * columns;
    for (std::size_t c = 0; c < columns; ++c) mine[c] += w.reduced_water[i] * by_water_[c];
  }
}

// du_i by free potential and for the lack alone: of the major species from their block, of the
// others R - K X, in which what they do through the water is the same for all but w_i.
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
  w.update_slopes();
  list_major(w);
  by_water_.assign(columns, 0);
  if (moves_water_alone(w)) {
    couple_through_water(w, columns);
    return;
  }
  if (!solve_major(w, columns)) return;
  const std::size_t m = major_.size();
  for (std::size_t b = 0; b < m; ++b) {
    for (std::size_t c = 0; c < columns; ++c)
      by_water_[c] += to_water_[b] * coupled_[b * columns + c];
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (is_major_[i] != 0) continue;
    double* mine = response_.data() + i * columns;
    const double* slopes = slopes_of(w, i);
    for (std::size_t c = 0; c < columns; ++c) mine[c] += w.reduced_water[i] * by_water_[c];
    for (std::size_t b = 0; b < m; ++b) {
      const double k = moles_[b] * slopes[slot_[b]];
      if (k == 0) continue;
      for (std::size_t c = 0; c < columns; ++c) mine[c] -= k * coupled_[b * columns + c];
    }
  }
  for (std::size_t a = 0; a < m; ++a)
    std::copy_n(coupled_.data() + a * columns, columns, response_.data() + major_[a] * columns);
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
      const double r = w.in_balance(i, f);
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
    if (reach > kLongestChange && w.u[i] + std::max(change, 0.0) > std::log(1e-6 * total)) {
      step = std::min(step, kLongestChange / reach);
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
  w.choose_balances();
  double previous = 1e300;
  for (int turn = 0; turn < std::min(kNewtonSteps, iteration_limit); ++turn) {
    ++w.iterations;
    const double error =
        w.find_lack(previous < kLikelyDone ? ActivityOf::values : ActivityOf::values_and_slopes);
    if (!std::isfinite(error)) return Status::singular;
    if (error < kDoneFully || (error < kDoneWell && error > 0.5 * previous)) {
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
  bool anew = false;
  for (int exchange = 0; exchange < kExchanges; ++exchange) {
    w.ties_changed();
    const Status status = newton(w, iteration_limit);
    if (status != Status::converged) return status;
    if (w.drop_worst(kNegativeAmount) != kNone) continue;
    if (w.add_worst(kSupersaturated)) continue;
    if (!anew && w.tie_anew()) {
      anew = true;
      continue;
    }
    for (double& n : w.amount) n = std::max(n, 0.0);
    return Status::converged;
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
