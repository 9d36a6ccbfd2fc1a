// The last resort: the curve of answers over the share of ln gamma that is counted, followed by its
// arc length, so that it may turn back on its way from 0 (certain) to 1. Far outside its range an
// activity model can make the straight way fold: the branch that starts at the ideal answer ends,
// and the answer of the full model lies on another part of the same curve.

#include <algorithm>
#include <cmath>

#include "equilibrium/solver.hpp"
#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {

constexpr int kCurveSteps = 3000;
constexpr int kCorrections = 8;
constexpr double kFirstStep = 0.1;  // in ln molality and share together
constexpr double kLongestStep = 1.0;
constexpr double kShortestStep = 1e-7;
constexpr double kOnCurve = 1e-9;
constexpr int kMostExchanges = 6;
constexpr double kSlack = 1e-10;      // ln saturation, and amount of a solid against its component
constexpr double kMajorShare = 1e-8;  // of all molality; smaller species follow

}  // namespace

double Solver::curve_coupling(std::size_t i, std::size_t j) const {
  const std::size_t si = chemistry_->slot[i];
  const std::size_t sj = chemistry_->slot[j];
  return share_ * molality[j] *
         (values_.ln_gamma_by_molality[si * model_molality_.size() + sj] -
          reduced_water_[i] * values_.ln_water_by_molality[sj]);
}

double Solver::curve_pull(std::size_t i) const {
  return reduced_water_[i] * values_.ln_water_activity - values_.ln_gamma[chemistry_->slot[i]];
}

// Unknowns: d ln m of the major species, d lambda of the free potentials, d share. The rows are
// their activity equations, the balances, and the last one given by the caller: `border` . x =
// `length`. With `residuals` the right side is what is lacking; without, zero (a tangent).
bool Solver::solve_curve(bool residuals, double length) {
  const std::size_t m = major_.size();
  const std::size_t width = ties.free().size();
  const std::size_t size = m + width + 1;
  coupling_.assign(size * size, 0);
  right_.assign(size, 0);
  major_order_.resize(size);
  for (std::size_t a = 0; a < m; ++a) {
    double* row = coupling_.data() + a * size;
    const std::size_t i = major_[a];
    for (std::size_t b = 0; b < m; ++b)
      row[b] = (a == b ? 1.0 : 0.0) + curve_coupling(i, major_[b]);
    for (std::size_t f = 0; f < width; ++f) row[m + f] = -reduced_[i * width + f];
    row[m + width] = -curve_pull(i);
    if (residuals) right_[a] = rho_[i];
  }
  for (std::size_t f = 0; f < width; ++f) {
    double* row = coupling_.data() + (m + f) * size;
    if (residuals) right_[m + f] = -residual_[f];
    for (std::size_t i = 0; i < u.size(); ++i) {
      const bool is_charge = ties.free()[f] == charge_row_;
      const double r = is_charge ? chemistry_->charge[i] : reduced_[i * width + f];
      if (r == 0) continue;
      const double weight = r * molality[i] / (r > 0 ? positive_[f] : negative_[f]);
      const auto place = std::find(major_.begin(), major_.end(), i);
      if (place != major_.end()) {
        row[place - major_.begin()] += weight;
        continue;
      }
      for (std::size_t b = 0; b < m; ++b) row[b] -= weight * curve_coupling(i, major_[b]);
      for (std::size_t g = 0; g < width; ++g) row[m + g] += weight * reduced_[i * width + g];
      row[m + width] += weight * curve_pull(i);
      if (residuals) right_[m + f] -= weight * rho_[i];
    }
  }
  std::copy(border_.begin(), border_.end(),
            coupling_.begin() + static_cast<std::ptrdiff_t>((size - 1) * size));
  right_[size - 1] = length;
  if (!lu_factor(coupling_.data(), size, size, major_order_.data())) return false;
  lu_solve(coupling_.data(), size, size, major_order_.data(), right_.data(), 1, 1);
  return std::all_of(right_.begin(), right_.end(), [](double x) { return std::isfinite(x); });
}

// Moves everything along right_, the minor species by their own activity equations.
void Solver::move_on_curve(double step) {
  const std::size_t m = major_.size();
  const std::size_t width = ties.free().size();
  for (std::size_t a = 0; a < m; ++a) {
    u[major_[a]] += step * right_[a];
    molality[major_[a]] = std::exp(std::min(u[major_[a]], 100.0));
  }
  for (std::size_t f = 0; f < width; ++f) lambda[ties.free()[f]] += step * right_[m + f];
  share_ += step * right_[m + width];
  update_activity();
  ties.complete(lambda, ln_water);
  for (std::size_t i = 0; i < u.size(); ++i) {
    if (std::find(major_.begin(), major_.end(), i) != major_.end()) continue;
    u[i] = chemistry_->species.value(i, lambda.data(), ln_water) - ln_gamma[i];
    molality[i] = std::exp(std::min(u[i], 100.0));
  }
}

double Solver::curve_error() {
  update_activity();
  ties.complete(lambda, ln_water);
  assemble_balances();
  double error = largest_residual();
  rho_.resize(u.size());
  for (std::size_t i = 0; i < u.size(); ++i) {
    rho_[i] = chemistry_->species.value(i, lambda.data(), ln_water) - ln_gamma[i] - u[i];
    error = std::max(error, std::abs(rho_[i]));
  }
  return error;
}

void Solver::list_major() {
  double total = 0;
  for (const double m : molality) total += m;
  major_.clear();
  for (std::size_t i = 0; i < u.size(); ++i) {
    if (molality[i] > kMajorShare * total) major_.push_back(i);
  }
}

bool Solver::correct_on_curve() {
  for (int turn = 0; turn < kCorrections; ++turn) {
    ++iterations;
    const double error = curve_error();
    if (error < kOnCurve) return true;
    if (!(error < 1e3) || !solve_curve(true, 0)) return false;
    move_on_curve(1);
  }
  return curve_error() < kOnCurve;
}

// Solids in or out where the curve has crossed a saturation or used one up; the share stays.
bool Solver::settle_solids() {
  for (int exchange = 0; exchange < kMostExchanges; ++exchange) {
    if (drop_worst(kSlack) == kNone && !add_worst(kSlack)) return true;
    set_ties_changed();
    if (newton(kCorrections) != Status::converged) return false;
  }
  return false;
}

Status Solver::follow() {
  share_ = 0;
  set_ties_changed();
  choose_charge_row();
  double step = kFirstStep;
  std::vector<double> heading(u.size(),
                              0);  // of ln m, to keep the direction when the major species change
  double share_heading = 1;
  for (int turn = 0; turn < kCurveSteps && step > kShortestStep; ++turn) {
    list_major();
    const std::size_t size = major_.size() + ties.free().size() + 1;
    curve_error();
    border_.assign(size, 0);
    for (std::size_t a = 0; a < major_.size(); ++a) border_[a] = heading[major_[a]];
    border_[size - 1] = share_heading;
    if (!solve_curve(false, 1)) return Status::singular;
    double norm = right_[size - 1] * right_[size - 1];
    for (std::size_t a = 0; a < major_.size(); ++a) norm += right_[a] * right_[a];
    const double scale = 1 / std::sqrt(norm);
    for (double& x : right_) x *= scale;
    for (std::size_t k = 0; k < size; ++k) {
      border_[k] = k < major_.size() || k == size - 1 ? right_[k] : 0;
    }
    const std::vector<double> lambda_kept = lambda;
    const std::vector<double> u_kept = u;
    const double share_kept = share_;
    const Ties ties_kept = ties;
    move_on_curve(step);
    if (!correct_on_curve() || !settle_solids()) {
      ties = ties_kept;
      set_ties_changed();
      lambda = lambda_kept;
      u = u_kept;
      share_ = share_kept;
      for (std::size_t i = 0; i < u.size(); ++i) molality[i] = std::exp(std::min(u[i], 100.0));
      step *= 0.4;
      continue;
    }
    // The way just gone, solids exchanged or not.
    for (std::size_t i = 0; i < u.size(); ++i) heading[i] = (u[i] - u_kept[i]) / step;
    share_heading = (share_ - share_kept) / step;
    if (share_ >= 1) return Status::converged;
    step = std::min(kLongestStep, 1.4 * step);
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
