// The last resort: the curve of answers over the share of ln gamma that is counted, followed by its
// arc length, so that it may turn back on its way from 0 (certain) to 1. Far outside its range an
// activity model can make the straight way fold: the branch that starts at the ideal answer ends,
// and the answer of the full model lies on another part of the same curve.

#include <algorithm>
#include <cmath>

#include "equilibrium/follow.hpp"
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

double Curve::curve_coupling(WaterState& w, std::size_t i, std::size_t j) {
  const std::size_t si = w.chemistry->slot[i];
  const std::size_t sj = w.chemistry->slot[j];
  return w.share * w.molality[j] *
         (w.values.ln_gamma_by_molality[si * w.model_molality.size() + sj] -
          w.reduced_water[i] * w.values.ln_water_by_molality[sj]);
}

double Curve::curve_pull(WaterState& w, std::size_t i) {
  return w.reduced_water[i] * w.values.ln_water_activity - w.values.ln_gamma[w.chemistry->slot[i]];
}

// Unknowns: d ln m of the major species, d lambda of the free potentials, d share. The rows are
// their activity equations, the balances, and the last one given by the caller: `border` . x =
// `length`. With `residuals` the right side is what is lacking; without, zero (a tangent).
bool Curve::solve_curve(WaterState& w, bool residuals, double length) {
  w.update_slopes();
  const std::size_t m = major_.size();
  const std::size_t width = w.ties.free().size();
  const std::size_t size = m + width + 1;
  matrix_.assign(size * size, 0);
  step_.assign(size, 0);
  order_.resize(size);
  for (std::size_t a = 0; a < m; ++a) {
    double* row = matrix_.data() + a * size;
    const std::size_t i = major_[a];
    for (std::size_t b = 0; b < m; ++b)
      row[b] = (a == b ? 1.0 : 0.0) + curve_coupling(w, i, major_[b]);
    for (std::size_t f = 0; f < width; ++f) row[m + f] = -w.reduced[i * width + f];
    row[m + width] = -curve_pull(w, i);
    if (residuals) step_[a] = w.lack[i];
  }
  for (std::size_t f = 0; f < width; ++f) {
    double* row = matrix_.data() + (m + f) * size;
    if (residuals) step_[m + f] = -w.residual[f];
    for (std::size_t i = 0; i < w.u.size(); ++i) {
      const double r = w.in_balance(i, f);
      if (r == 0) continue;
      const double weight = r * w.molality[i] / (r > 0 ? w.positive_part[f] : w.negative_part[f]);
      const auto place = std::find(major_.begin(), major_.end(), i);
      if (place != major_.end()) {
        row[place - major_.begin()] += weight;
        continue;
      }
      for (std::size_t b = 0; b < m; ++b) row[b] -= weight * curve_coupling(w, i, major_[b]);
      for (std::size_t g = 0; g < width; ++g) row[m + g] += weight * w.reduced[i * width + g];
      row[m + width] += weight * curve_pull(w, i);
      if (residuals) step_[m + f] -= weight * w.lack[i];
    }
  }
  std::copy(border_.begin(), border_.end(),
            matrix_.begin() + static_cast<std::ptrdiff_t>((size - 1) * size));
  step_[size - 1] = length;
  if (!lu_factor(matrix_.data(), size, size, order_.data())) return false;
  lu_solve(matrix_.data(), size, size, order_.data(), step_.data(), 1, 1);
  return std::all_of(step_.begin(), step_.end(), [](double x) { return std::isfinite(x); });
}

// Moves everything along step_, the minor species by their own activity equations.
void Curve::move_on_curve(WaterState& w, double step) {
  const std::size_t m = major_.size();
  const std::size_t width = w.ties.free().size();
  for (std::size_t a = 0; a < m; ++a) {
    w.u[major_[a]] += step * step_[a];
    w.molality[major_[a]] = std::exp(std::min(w.u[major_[a]], 100.0));
  }
  for (std::size_t f = 0; f < width; ++f) w.lambda[w.ties.free()[f]] += step * step_[m + f];
  w.share += step * step_[m + width];
  w.update_activity();
  w.ties.complete(w.lambda, w.ln_water);
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    if (std::find(major_.begin(), major_.end(), i) != major_.end()) continue;
    w.u[i] = w.chemistry->species.value(i, w.lambda.data(), w.ln_water) - w.ln_gamma[i];
    w.molality[i] = std::exp(std::min(w.u[i], 100.0));
  }
}

void Curve::list_major(WaterState& w) {
  double total = 0;
  for (const double m : w.molality) total += m;
  major_.clear();
  for (std::size_t i = 0; i < w.u.size(); ++i) {
    if (w.molality[i] > kMajorShare * total) major_.push_back(i);
  }
}

bool Curve::correct_on_curve(WaterState& w) {
  for (int turn = 0; turn < kCorrections; ++turn) {
    ++w.iterations;
    const double error = w.find_lack();
    if (error < kOnCurve) return true;
    if (!(error < 1e3) || !solve_curve(w, true, 0)) return false;
    move_on_curve(w, 1);
  }
  return w.find_lack() < kOnCurve;
}

// Solids in or out where the curve has crossed a saturation or used one up; the share stays.
bool Curve::settle_solids(WaterState& w) {
  for (int exchange = 0; exchange < kMostExchanges; ++exchange) {
    if (w.drop_worst(kSlack) == kNone && !w.add_worst(kSlack)) return true;
    w.ties_changed();
    if (full_.newton(w, kCorrections) != Status::converged) return false;
  }
  return false;
}

Status Curve::follow(WaterState& w) {
  w.share = 0;
  w.ties_changed();
  w.choose_balances();
  double step = kFirstStep;
  std::vector<double> heading(w.u.size(),
                              0);  // of ln m, to keep the direction when the major species change
  double share_heading = 1;
  for (int turn = 0; turn < kCurveSteps && step > kShortestStep; ++turn) {
    list_major(w);
    const std::size_t size = major_.size() + w.ties.free().size() + 1;
    w.find_lack();
    border_.assign(size, 0);
    for (std::size_t a = 0; a < major_.size(); ++a) border_[a] = heading[major_[a]];
    border_[size - 1] = share_heading;
    if (!solve_curve(w, false, 1)) return Status::singular;
    double norm = step_[size - 1] * step_[size - 1];
    for (std::size_t a = 0; a < major_.size(); ++a) norm += step_[a] * step_[a];
    const double scale = 1 / std::sqrt(norm);
    for (double& x : step_) x *= scale;
    for (std::size_t k = 0; k < size; ++k) {
      border_[k] = k < major_.size() || k == size - 1 ? step_[k] : 0;
    }
    const std::vector<double> lambda_kept = w.lambda;
    const std::vector<double> u_kept = w.u;
    const double share_kept = w.share;
    const Ties ties_kept = w.ties;
    move_on_curve(w, step);
    if (!correct_on_curve(w) || !settle_solids(w)) {
      w.ties = ties_kept;
      w.ties_changed();
      w.lambda = lambda_kept;
      w.u = u_kept;
      w.share = share_kept;
      for (std::size_t i = 0; i < w.u.size(); ++i)
        w.molality[i] = std::exp(std::min(w.u[i], 100.0));
      step *= 0.4;
      continue;
    }
    // The way just gone, solids exchanged or not.
    for (std::size_t i = 0; i < w.u.size(); ++i) heading[i] = (w.u[i] - u_kept[i]) / step;
    share_heading = (w.share - share_kept) / step;
    if (w.share >= 1) return Status::converged;
    step = std::min(kLongestStep, 1.4 * step);
  }
  return Status::iteration_limit;
}

}  // namespace aeruca::detail
