#pragma once

// Waters side by side: the same balances, stages and certificate as one water alone (descend.hpp,
// refine.hpp, certify.hpp), for those that need no more than the usual way, with the solids that are
// thought to be present tied. A solid that has to come or go is named, and the water goes to a group
// of its like; whatever else turns up, a step that fails, a second answer that may exist, is left to
// be solved alone. A lane never sees what another one holds: a step is taken or not
// by lane, so neither order nor grouping shows in an answer, to the last bit.
//
// With G = -F(I) + 1/2 sum epsilon m m (excess.hpp) the derivatives of the activity are
//   d ln gamma_i / d m_j = epsilon_ij - z_i^2 z_j^2 D'(I) / 2,
//   d ln a(w) / d m_j    = -M_w (1 + E_j - z_j^2 D' I),  E_j = sum_i epsilon_ij m_i,
// so that I + K of the full stage is (I + E) with two outer products added. I + E binds cations to
// anions only, and is solved for the fewer of the two kinds; the products follow by the formula of
// Woodbury (for example Golub and Van Loan 2013, Matrix Computations, section 2.1.4).
//
// Included once by each kernel; see numerics/lanes.hpp for why all of it is internal, and why arrays
// here are those of C: the members of std::array would be shared between kernels.

#include "activity/pitzer_sums.hpp"
#include "aeruca/constants.hpp"
#include "equilibrium/bounds.hpp"
#include "equilibrium/lane_plan.hpp"
#include "numerics/lanes.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

// Besides the bounds of one water (bounds.hpp):
// NOLINTBEGIN(misc-definitions-in-headers)
constexpr double kGuessDone = 0.05;  // ln balance: activity coefficients enter, then the full stage
constexpr double kShorter = 0.4;     // of a step after which more is lacking
constexpr int kPhTurns = 6;          // of the first guess of a pH, each with some sweeps
constexpr int kSweepsOfTurn = 2;
constexpr int kMostRounds = 60;      // of the convex stage
constexpr int kMostFullRounds = 25;  // of the full stage
constexpr double kFarAbove = 1;      // ln, by the scarcest component, after the first guess
constexpr double kStableNorm = 1 - kNearlyUnstable;
constexpr double kLeastPivot = 1e-6;  // of I + K: nearer to unstable, and the eigenvalue is asked
// NOLINTEND(misc-definitions-in-headers)

template <int W>
class LaneSolver {
  using V = Lanes<W>;
  using M = LaneWhole<W>;

 public:
  // place_ and chosen_ are filled where they are used.
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init,readability-non-const-parameter)
  LaneSolver(const LaneView& plan, const LaneWaters& waters, double* scratch)
      : p_(plan),
        w_(waters),
        pitzer_(plan.pitzer, scratch),
        next_(scratch + PitzerSums<SideBySide<W>>::room(plan.pitzer) * W) {
    const std::size_t n = p_.species;
    const std::size_t f = p_.free;
    base_ = take(n);
    u_ = take(n);
    m_ = take(n);
    ln_gamma_ = take(n);
    lack_ = take(n);
    pair_sum_ = take(n);
    response_ = take(n * (f + 3));
    total_ = take(f);
    lambda_ = take(f);
    from_ = take(f);
    direction_ = take(f);
    positive_ = take(f);
    negative_ = take(f);
    residual_ = take(f);
    jacobian_ = take(f * f);
    all_lambda_ = take(p_.columns);
    net_ = take(p_.columns);
    absolute_ = take(p_.columns);
    gave_ = take(p_.tied);
    const bool dense = p_.pitzer.species > 0;
    const std::size_t coupled = dense ? n : p_.anion_count;
    coupling_ = take(coupled * coupled);
    slope_ = take(dense ? n * n : 0);
    omega_ = take(dense ? n : 0);
  }

  void solve();

 private:
  double* take(std::size_t count) {
    double* place = next_;
    next_ += count * W;
    return place;
  }
  static V at(const double* array, std::size_t i) { return lane_load<W>(array + i * W); }
  static void put(double* array, std::size_t i, V value) { lane_store<W>(array + i * W, value); }
  static V all(double value) { return lanes_of<W>(value); }

  void start();
  void sweep(std::size_t count);
  void move(std::size_t f, V change);
  void find_ph();
  V lack_of_hydrogen() const;
  V linear(std::size_t i) const;
  void species_from_potentials();
  void molalities();
  V balances();

  double share(std::size_t i, std::size_t f) const;
  bool takes_part(std::size_t i, std::size_t f) const;
  void charge_instead(V& positive, V& negative) const;
  V weight(std::size_t i, std::size_t f, V up, V down) const;
  void choose_balance();
  M neutral() const;

  // ln gamma, ln a(w) and what their derivatives need, at the molalities in place.
  struct Model {
    V strength, slope, ln_water, sum;
  };
  Model activity(double* ln_gamma);
  static V log_remainder(V y);
  static void eliminate(double* matrix, std::size_t n, double* right, std::size_t rights, M& sound);
  void logarithmic_direction(M& sound);
  void convex();
  void new_direction(M fresh, M& sound, V& first);
  void take_activity(M enter);
  void full();
  void newton_step(const Model& model, M moving, M& sound);
  void solve_coupling(const Model& model, M& sound);
  void solve_pairs(const Model& model, M& sound);
  void solve_dense(const Model& model, M& sound);
  void weigh_slopes(std::size_t count, V root);

  double* coupled(std::size_t a) { return next_ + a * (p_.free + 3) * W; }

  M matters(std::size_t i, V root) const;
  bool is_major(std::size_t i, V root) const { return lane_any<W>(matters(i, root)); }
  V major(std::size_t i, V root) const { return matters(i, root) ? at(m_, i) : all(0); }

  void complete(V ln_water);
  void look_for_solid(V above);
  bool is_tied(std::size_t phase) const;
  void find_amounts();
  void tell();
  void certify();
  M balanced();
  void add(const double* row, V amount);
  V expression(const double* row, double constant, double water, V ln_water) const;
  M no_gap(V ln_water) const;
  V value_of(std::size_t phase, V ln_water) const;
  M saturated(V ln_water) const;
  M stable(const Model& model);
  M stable_dense(const Model& model);
  M has_factors(std::size_t count);

  const LaneView& p_;
  const LaneWaters& w_;
  PitzerSums<SideBySide<W>> pitzer_;
  double* next_;
  double *base_, *u_, *m_, *ln_gamma_, *lack_, *pair_sum_, *response_;
  double *total_, *lambda_, *from_, *direction_, *positive_, *negative_, *residual_, *jacobian_;
  double *all_lambda_, *net_, *absolute_, *gave_, *coupling_;
  double *slope_, *omega_;            // of Pitzer's equations
  std::size_t place_[kMostSpecies];   // NOLINT(modernize-avoid-c-arrays)
  std::size_t chosen_[kMostSpecies];  // NOLINT(modernize-avoid-c-arrays)
  V ln_water_, outcome_, solid_ = all(0);
  M alive_;
  M by_charge_ = M{};  // that balance stands for the one of hydrogen
  M rises_ = ~M{};     // charge with acidity
};

template <int W>
void LaneSolver<W>::solve() {
  start();
  convex();
  outcome_ = alive_ ? all(kHeld) : all(kAlone);
  look_for_solid(all(kFarAbove));
  alive_ &= outcome_ == all(kHeld);
  if (lane_any<W>(alive_)) {
    full();
    outcome_ = (outcome_ == all(kHeld)) & ~alive_ ? all(kAlone) : outcome_;
    find_amounts();
    look_for_solid(all(kSupersaturated));
    certify();
  }
  tell();
}

}  // namespace
}  // namespace aeruca::detail
