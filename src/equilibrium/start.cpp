// Where the convex stage starts: potentials that nearly balance, and no solid supersaturated.

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "equilibrium/solver.hpp"

namespace aeruca::detail {

namespace {

constexpr double kTiny = 1e-290;
constexpr double kOnTheLine = 1e-9;    // ln saturation counted as saturated
constexpr double kLargestChange = 60;  // of a potential in one sweep
constexpr int kSweeps = 4;

}  // namespace

double bounded_exp(double exponent) {
  constexpr double kLargestExponent = 230;  // exp stays finite, and so do sums and products of two
  return std::exp(std::min(exponent, kLargestExponent));
}

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
    ties.reduce_row(chemistry_->species.row(i), chemistry_->species.water[i],
                    reduced_.data() + i * width, reduced_water_[i]);
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
      case ColumnKind::mass:
        lambda[j] = std::log(std::max(chemistry_->totals[j], kTiny));
        break;
      case ColumnKind::hydrogen:
        lambda[j] = -7 * kLn10;
        break;
      case ColumnKind::electron:
        lambda[j] = -4 * kLn10;
        break;
    }
  }
  ties.complete(lambda, ln_water);
  evaluate_species();
  sweep(kSweeps);
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
      const double change =
          std::clamp(-std::log(positive / negative) / curvature, -kLargestChange, kLargestChange);
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

// Lowers, for each supersaturated solid in turn, the potential of the component that it would use
// up first; solids hold their components with positive coefficients, so none of the others gains by
// it.
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
    if (std::abs(phases.value(s, lambda.data(), ln_water)) < kOnTheLine)
      ties.add_phase(*chemistry_, s);
  }
  ties.complete(lambda, ln_water);
  set_ties_changed();
  evaluate_species();
}

}  // namespace aeruca::detail
