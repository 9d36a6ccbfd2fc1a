#include "equilibrium/dry.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "aeruca/not_given.hpp"
#include "equilibrium/stability.hpp"
#include "numerics/linear_program.hpp"

namespace aeruca::detail {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kSaturated = 1e-8;  // ln, as in the certificate of a solution
constexpr double kReached = 1e-11;   // of what the nearest solution lacks, ln
constexpr double kLongest = 1.5;     // step of ln m
constexpr int kMostTurns = 200;
constexpr double kLeastLn = -200;  // ln molality of what is there in name only

std::size_t column_of_kind(const Chemistry& chemistry, ColumnKind kind) {
  const auto found = std::find(chemistry.kind.begin(), chemistry.kind.end(), kind);
  return found == chemistry.kind.end() ? kNone
                                       : static_cast<std::size_t>(found - chemistry.kind.begin());
}

// Where the nearest solution is sought: at rest, or at the end of the range of the activity model.
enum class Reach { anywhere, end_of_range };

// Coefficients of H(+) and e(-).
struct Exchange {
  double hydrogen = 0, electron = 0;
};

class Dry {
 public:
  Dry(const WaterSystem& system, const Water& water, double ln_water)
      : activity_(*system.activity),
        model_species_(system.species.names.size()),
        chemistry_(water.chemistry),
        ln_held_(ln_water),
        hydrogen_(column_of_kind(chemistry_, ColumnKind::hydrogen)),
        electron_(column_of_kind(chemistry_, ColumnKind::electron)) {
    for (std::size_t j = 0; j < chemistry_.columns(); ++j) {
      if (chemistry_.kind[j] == ColumnKind::mass) mass_.push_back(j);
    }
    ion_.assign(chemistry_.columns(), kNone);
    for (std::size_t i = 0; i < chemistry_.species.size(); ++i) {
      const double* row = chemistry_.species.row(i);
      for (const std::size_t j : mass_) {
        if (row[j] == 1 && std::count(row, row + chemistry_.columns(), 0.0) + 1 ==
                               static_cast<std::ptrdiff_t>(chemistry_.columns()))
          ion_[j] = i;
      }
    }
  }

  DryWater find() {
    if (!find_solids()) {
      answer_.status = Status::infeasible;
      return answer_;
    }
    measure();
    if (!proves_solids()) return answer_;
    find_nearest({});
    if (answer_.status != Status::converged && answer_.degenerate) try_other_prices();
    return answer_;
  }

 private:
  [[nodiscard]] Exchange exchange(const double* row) const {
    return {hydrogen_ == kNone ? 0 : row[hydrogen_], electron_ == kNone ? 0 : row[electron_]};
  }

  // `more`: with a trace of this solid beside the totals, so that its own price is told; kNone: none.
  [[nodiscard]] std::optional<LinearOptimum> cheapest(std::size_t more) const {
    constexpr double kTrace = 1e-6;
    LinearProgram program;
    program.rows = mass_.size();
    for (const std::size_t s : solids_) {
      for (const std::size_t j : mass_) program.columns.push_back(chemistry_.phases.row(s)[j]);
      program.value.push_back(chemistry_.phases.constant[s] +
                              chemistry_.phases.water[s] * ln_held_);
    }
    for (const std::size_t j : mass_) {
      const double added = more == kNone ? 0 : kTrace * chemistry_.phases.row(more)[j];
      program.right.push_back(chemistry_.totals[j] + added);
    }
    return maximise(program);
  }

  void take_prices(const LinearOptimum& best) {
    for (std::size_t k = 0; k < mass_.size(); ++k) answer_.lambda[mass_[k]] = -best.price[k];
    hold_acid_and_potential();
  }

  bool find_solids() {
    for (std::size_t s = 0; s < chemistry_.phases.size(); ++s) {
      const Exchange open = exchange(chemistry_.phases.row(s));
      if (open.hydrogen == 0 && open.electron == 0) solids_.push_back(s);
    }
    const auto best = cheapest(kNone);
    if (!best) return false;
    answer_.degenerate = best->degenerate;
    answer_.amount.assign(chemistry_.phases.size(), 0);
    for (std::size_t k = 0; k < solids_.size(); ++k) answer_.amount[solids_[k]] = best->amount[k];
    answer_.lambda.assign(chemistry_.columns(), 0);
    take_prices(*best);
    return true;
  }

  // What is pinned has the value 0; here that fixes H(+) and e(-), one expression each.
  void hold_acid_and_potential() {
    for (int turn = 0; turn < 2; ++turn) {
      for (std::size_t k = 0; k < chemistry_.pinned.size(); ++k) {
        const std::size_t own = chemistry_.pinned_column[k];
        const double rest = chemistry_.pinned.value(k, answer_.lambda.data(), ln_held_);
        answer_.lambda[own] -= rest / chemistry_.pinned.row(k)[own];
      }
    }
  }

  void measure() {
    answer_.mass_balance = 0;
    for (const std::size_t j : mass_) {
      double held = -chemistry_.totals[j];
      for (const std::size_t s : solids_) held += answer_.amount[s] * chemistry_.phases.row(s)[j];
      answer_.mass_balance =
          std::max(answer_.mass_balance, std::abs(held) / std::max(chemistry_.totals[j], 1e-300));
    }
    answer_.supersaturation = -std::numeric_limits<double>::infinity();
    for (const std::size_t s : solids_) {
      const double value = chemistry_.phases.value(s, answer_.lambda.data(), ln_held_);
      answer_.supersaturation = std::max(answer_.supersaturation, value);
      if (answer_.amount[s] > 0 && std::abs(value) > kSaturated) answer_.supersaturation = 1;
    }
  }

  [[nodiscard]] bool proves_solids() const {
    return answer_.mass_balance < 1e-9 && answer_.supersaturation < kSaturated;
  }

  // Fewer solids than the ions leave open: other potentials prove the same solids, and the proof
  // that no solution forms needs but one of them. Those with another solid saturated, and those of
  // the solution that the solids alone are saturated with.
  void try_other_prices() {
    const DryWater first = answer_;
    for (const std::size_t more : solids_) {
      if (first.amount[more] > 0) continue;
      const auto other = cheapest(more);
      if (!other) continue;
      take_prices(*other);
      if (proven_with({})) return;
    }
    for (const double strength : {5.0, 20.0, 1.0}) {
      if (!dissolve_support(strength)) continue;
      hold_acid_and_potential();
      if (proven_with(u_)) return;
    }
    answer_ = first;
  }

  bool proven_with(const std::vector<double>& start) {
    measure();
    if (!proves_solids()) return false;
    find_nearest(start);
    return answer_.status == Status::converged;
  }

  // The solution x_s of the solids that are there, saturated with each of them: Newton in ln x.
  bool dissolve_support(double strength) {
    std::vector<std::size_t> support;
    double all = 0;
    for (const std::size_t s : solids_) {
      if (answer_.amount[s] > 0) support.push_back(s), all += answer_.amount[s];
    }
    const auto n = static_cast<Index>(support.size());
    VectorXd ln_x(n);
    for (Index k = 0; k < n; ++k)
      ln_x[k] = std::log(strength * answer_.amount[support[static_cast<std::size_t>(k)]] / all);
    for (int turn = 0; turn < kMostTurns; ++turn) {
      take_ions(support, ln_x);
      MatrixXd by_x = MatrixXd::Zero(n, n);
      VectorXd off(n);
      for (Index a = 0; a < n; ++a) {
        const std::size_t s = support[static_cast<std::size_t>(a)];
        off[a] = chemistry_.phases.value(s, answer_.lambda.data(), ln_held_);
        for (Index b = 0; b < n; ++b)
          by_x(a, b) = affinity_slope(s, support[static_cast<std::size_t>(b)]) * std::exp(ln_x[b]);
      }
      if (!off.allFinite()) return false;
      if (off.cwiseAbs().maxCoeff() < kReached) return true;
      const VectorXd step = by_x.fullPivLu().solve(off);
      const double part = std::min(1.0, kLongest / step.cwiseAbs().maxCoeff());
      if (!(part > 0)) return false;
      ln_x -= part * step;
    }
    return false;
  }

  // u of the ions of these salts, and lambda of the components from it.
  void take_ions(const std::vector<std::size_t>& support, const VectorXd& ln_x) {
    u_.assign(chemistry_.species.size(), kLeastLn);
    molality_.resize(u_.size());
    for (const std::size_t j : mass_) {
      double sum = 0;
      for (std::size_t k = 0; k < support.size(); ++k)
        sum += chemistry_.phases.row(support[k])[j] * std::exp(ln_x[static_cast<Index>(k)]);
      u_[ion_[j]] = std::log(sum);
    }
    evaluate();
    for (const std::size_t j : mass_)
      answer_.lambda[j] = u_[ion_[j]] + values_.ln_gamma[chemistry_.slot[ion_[j]]];
  }

  // How the saturation of solid s rises with what dissolves of solid t.
  [[nodiscard]] double affinity_slope(std::size_t s, std::size_t t) const {
    double sum = 0;
    for (const std::size_t j : mass_) {
      const double* row =
          values_.ln_gamma_by_molality.data() + chemistry_.slot[ion_[j]] * model_species_;
      for (const std::size_t k : mass_) {
        const double own = j == k ? 1 / molality_[ion_[j]] : 0;
        sum += chemistry_.phases.row(s)[j] * (own + row[chemistry_.slot[ion_[k]]]) *
               chemistry_.phases.row(t)[k];
      }
    }
    return sum;
  }

  // How the potential of species i moves with g, when those of the components move by g z.
  [[nodiscard]] double shift(std::size_t i) const {
    double sum = 0;
    for (const std::size_t j : mass_)
      sum += chemistry_.species.row(i)[j] * chemistry_.column_charge[j];
    return sum;
  }

  void find_nearest(const std::vector<double>& first) {
    answer_.status = Status::iteration_limit;
    answer_.nearest_ln_water = kNotGiven;
    std::vector<std::vector<double>> starts;
    if (!first.empty()) starts.push_back(first);
    for (const double strength : {3.0, 15.0, 0.3}) starts.push_back(start_of(strength));
    for (const Reach reach : {Reach::anywhere, Reach::end_of_range}) {
      for (const auto& start : starts) {
        if (come_to_rest(start, reach)) compare();
      }
      if (!std::isnan(answer_.nearest_ln_water)) break;
    }
    if (std::isnan(answer_.nearest_ln_water)) return;
    answer_.status = answer_.nearest_ln_water >= ln_held_ ? Status::converged : Status::unstable;
  }

  // The place that was found, if a minimum, against the nearest so far. At the end of the range the
  // cost must still fall outwards, else a lower one lies inside.
  void compare() {
    const double stability =
        solution_stability(chemistry_.charge, chemistry_.slot, molality_, values_);
    const double needed =
        values_.ln_water_activity + kWaterMolarMass * push_ * values_.ionic_strength;
    if (!(stability > 0) || !(values_.ln_water_activity <= 0) || push_ > 0) return;
    if (needed >= answer_.nearest_ln_water) return;  // false while there is none
    answer_.nearest_ln_water = needed;
    answer_.stability = stability;
    answer_.to_end_of_range = push_ < 0;
  }

  // The ions as they were given, all together of this molality.
  [[nodiscard]] std::vector<double> start_of(double strength) const {
    double all = 0;
    for (const std::size_t j : mass_) all += chemistry_.totals[j];
    std::vector<double> start(chemistry_.species.size(), -30);
    for (const std::size_t j : mass_)
      start[ion_[j]] = std::log(strength * chemistry_.totals[j] / all);
    return start;
  }

  void evaluate() {
    for (std::size_t i = 0; i < u_.size(); ++i) molality_[i] = std::exp(u_[i]);
    model_.assign(model_species_, 0);
    for (std::size_t i = 0; i < u_.size(); ++i) model_[chemistry_.slot[i]] = there(molality_[i]);
    activity_.evaluate(model_, values_);
  }

  // What the place is sought for: the brackets of each species, neutrality, and, at the end of the
  // range, its ionic strength. Unknown beside ln m are g and the push by half z^2, which is 0
  // elsewhere.
  [[nodiscard]] VectorXd lack(double g) const {
    const auto n = static_cast<Index>(u_.size());
    VectorXd off(n + 2);
    double net = 0;
    for (Index i = 0; i < n; ++i) {
      const auto k = static_cast<std::size_t>(i);
      off[i] = u_[k] + values_.ln_gamma[chemistry_.slot[k]] - base_[k] - g * shift_[k] -
               push_ * half_square(k);
      net += chemistry_.charge[k] * molality_[k];
    }
    off[n] = net / values_.ionic_strength;
    off[n + 1] = limit_ > 0 ? values_.ionic_strength / limit_ - 1 : push_;
    return off;
  }

  [[nodiscard]] double half_square(std::size_t species) const {
    return 0.5 * chemistry_.charge[species] * chemistry_.charge[species];
  }

  [[nodiscard]] MatrixXd slopes() const {
    const auto n = static_cast<Index>(u_.size());
    MatrixXd matrix = MatrixXd::Identity(n + 2, n + 2);
    for (Index i = 0; i < n; ++i) {
      const auto a = static_cast<std::size_t>(i);
      const double* row = values_.ln_gamma_by_molality.data() + chemistry_.slot[a] * model_species_;
      for (Index j = 0; j < n; ++j) {
        const auto b = static_cast<std::size_t>(j);
        matrix(i, j) += row[chemistry_.slot[b]] * molality_[b];
      }
      matrix(i, n) = -shift_[a];
      matrix(i, n + 1) = -half_square(a);
      matrix(n, i) = chemistry_.charge[a] * molality_[a] / values_.ionic_strength;
      if (limit_ > 0) matrix(n + 1, i) = half_square(a) * molality_[a] / limit_;
    }
    matrix(n, n) = 0;
    if (limit_ > 0) matrix(n + 1, n + 1) = 0;
    return matrix;
  }

  void prepare(const std::vector<double>& start, Reach reach) {
    const std::size_t n = chemistry_.species.size();
    u_ = start;
    molality_.resize(n);
    base_.resize(n);
    shift_.resize(n);
    for (std::size_t i = 0; i < n; ++i) {
      base_[i] = chemistry_.species.value(i, answer_.lambda.data(), ln_held_);
      shift_[i] = shift(i);
    }
    push_ = 0;
    limit_ = 0;
    if (reach == Reach::anywhere) return;
    evaluate();
    limit_ = activity_.ionic_strength_max(model_);
  }

  // Newton, steps kept short.
  bool come_to_rest(const std::vector<double>& start, Reach reach) {
    prepare(start, reach);
    const auto n = static_cast<Index>(u_.size());
    double g = 0;
    for (int turn = 0; turn < kMostTurns; ++turn) {
      evaluate();
      const VectorXd off = lack(g);
      if (!off.allFinite()) return false;
      if (off.cwiseAbs().maxCoeff() < kReached) return true;
      const VectorXd step = slopes().fullPivLu().solve(off);
      const double part = std::min(1.0, kLongest / step.head(n).cwiseAbs().maxCoeff());
      if (!(part > 0)) return false;
      for (Index i = 0; i < n; ++i) {
        double& u = u_[static_cast<std::size_t>(i)];
        u = std::max(u - part * step[i], kLeastLn);
      }
      g -= part * step[n];
      if (limit_ > 0) push_ -= part * step[n + 1];
    }
    return false;
  }

  const Activity& activity_;
  std::size_t model_species_;
  const Chemistry& chemistry_;
  double ln_held_;
  std::size_t hydrogen_, electron_;
  std::vector<std::size_t> mass_, solids_;
  std::vector<std::size_t> ion_;  // by column: the species that is the component itself
  DryWater answer_;
  std::vector<double> u_, molality_, model_, base_, shift_;
  double push_ = 0, limit_ = 0;
  ActivityValues values_;
};

}  // namespace

DryWater solve_dry(const WaterSystem& system, const Water& water, double ln_water) {
  return Dry(system, water, ln_water).find();
}

}  // namespace aeruca::detail
