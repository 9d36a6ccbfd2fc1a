// Where the convex stage starts: potentials that nearly balance, and no solid supersaturated.

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "equilibrium/bounds.hpp"
#include "equilibrium/descend.hpp"
#include "equilibrium/small_power.hpp"
#include "numerics/scalar.hpp"

namespace aeruca::detail {

namespace {

// A molality outside has lost digits or was cut off.
constexpr double kLeastProduct = 1e-250;
constexpr double kMostProduct = 1e99;
constexpr double kOnTheLine = 1e-9;  // ln saturation counted as saturated

}  // namespace

void Descent::start(WaterState& w) {
  for (std::size_t j = 0; j < w.chemistry->columns(); ++j) {
    switch (w.chemistry->kind[j]) {
      case ColumnKind::mass:
        w.lambda[j] = std::log(std::max(w.chemistry->totals[j], kTinyPart));
        break;
      case ColumnKind::hydrogen:
        w.lambda[j] = -7 * kLn10;
        break;
      case ColumnKind::electron:
        w.lambda[j] = -4 * kLn10;
        break;
    }
  }
  w.ties.complete(w.lambda, w.ln_water);
  w.evaluate_species();
  sweep(w, kSweeps);
  make_feasible(w);
}

// Each free potential in turn to its own logarithmic balance.
void Descent::sweep(WaterState& w, int times) {
  const std::size_t width = w.ties.free().size();
  for (int round = 0; round < times; ++round) {
    for (std::size_t f = 0; f < width; ++f) {
      double positive = std::max(-w.reduced_totals[f], kTinyPart);
      double negative = std::max(w.reduced_totals[f], kTinyPart);
      double up = 0;
      double down = 0;
      for (std::size_t i = 0; i < w.u.size(); ++i) {
        const double r = w.reduced[i * width + f];
        if (r > 0) {
          positive += r * w.molality[i];
          up += r * r * w.molality[i];
        } else if (r < 0) {
          negative -= r * w.molality[i];
          down += r * r * w.molality[i];
        }
      }
      const double curvature = up / positive + down / negative;
      if (!(curvature > 1e-6)) continue;
      const double change =
          std::clamp(-std::log(positive / negative) / curvature, -kLongestSweep, kLongestSweep);
      w.lambda[w.ties.free()[f]] += change;
      const double factor = std::exp(change);
      const double inverse = 1 / factor;
      for (std::size_t i = 0; i < w.u.size(); ++i) {
        const double r = w.reduced[i * width + f];
        if (r == 0) continue;
        w.u[i] += r * change;
        double& m = w.molality[i];
        const bool exact = m > kLeastProduct && m < kMostProduct;
        m = exact ? m * small_power<Scalar>(factor, inverse, r) : bounded_exp(w.u[i]);
      }
    }
  }
  w.ties.complete(w.lambda, w.ln_water);
}

// Lowers, for each supersaturated solid in turn, the potential of the component that it would use
// up first; solids hold their components with positive coefficients, so none of the others gains by
// it.
void Descent::make_feasible(WaterState& w) {
  const Expressions& phases = w.chemistry->phases;
  lowered_.clear();
  for (std::size_t s = 0; s < phases.size() && w.solids_form; ++s) {
    if (w.ties.holds_phase(s)) continue;
    const double excess = phases.value(s, w.lambda.data(), w.ln_water);
    if (excess <= 0) continue;
    std::size_t column = kNone;
    double least = std::numeric_limits<double>::infinity();
    for (const std::size_t j : w.ties.free()) {
      if (w.chemistry->kind[j] != ColumnKind::mass || phases.row(s)[j] <= 0) continue;
      const double available = w.chemistry->totals[j] / phases.row(s)[j];
      if (available >= least) continue;
      least = available;
      column = j;
    }
    if (column == kNone) continue;
    w.lambda[column] -= excess / phases.row(s)[column];
    w.ties.complete(w.lambda, w.ln_water);
    lowered_.push_back(s);
  }
  for (const std::size_t s : lowered_) {
    if (std::abs(phases.value(s, w.lambda.data(), w.ln_water)) < kOnTheLine)
      w.ties.add_phase(*w.chemistry, s);
  }
  if (!lowered_.empty()) {
    w.ties.complete(w.lambda, w.ln_water);
    w.ties_changed();
  }
  w.evaluate_species();
}

}  // namespace aeruca::detail
