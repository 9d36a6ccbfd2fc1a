#pragma once

// The convex stage: activity coefficients held, minimise sum exp(u_i) - T . lambda subject to
// ln saturation <= 0. A feasible active-set Newton method: every step stays below saturation, a
// solid reached is tied (ties.hpp), a solid whose amount turns negative is let go, the objective
// never rises. The direction comes from the logarithmic balances ln(P_j / N_j) = 0, where P_j and
// N_j collect the positive and negative contributions to balance j: exact in one step where a
// single species leads each side, so tens of orders of magnitude cost no more than one. Where it is
// no descent direction of the convex objective, or fails its line search, the plain Newton
// direction takes its place.

#include "equilibrium/water_state.hpp"

namespace aeruca::detail {

class Descent {
 public:
  /// Potentials that nearly balance, and no solid supersaturated.
  void start(WaterState& w);
  /// Lowers potentials until no solid is supersaturated.
  void make_feasible(WaterState& w);
  Status descend(WaterState& w, double tolerance, int iteration_limit);

 private:
  static void sweep(WaterState& w, int times);
  bool logarithmic_direction(WaterState& w);
  void newton_direction(WaterState& w);
  double slope(WaterState& w) const;
  double slope_at(WaterState& w, double step);
  double search(WaterState& w, bool exact, std::size_t& block);
  void move(WaterState& w, double step);
  std::size_t blocking_phase(WaterState& w, double& step) const;

  std::vector<double> jacobian_, scale_;  // of the free potentials; scale_ of the plain direction
  std::vector<std::size_t> order_;        // pivots of jacobian_
  std::vector<double> direction_;         // of the free potentials
  std::vector<double> full_direction_;    // of all potentials
  std::vector<double> speed_;             // of u along the direction
  std::vector<std::size_t> lowered_;      // solids, to saturation
  std::vector<double> trial_;             // molalities at trial_step_ along it
  double trial_step_ = 0;
};

}  // namespace aeruca::detail
