#pragma once

// The equilibrium of one water, in two stages.
//
// descend(): activity coefficients held. Convex: minimise sum exp(u_i) - T . lambda subject to
//   ln saturation <= 0. A feasible active-set Newton method: every step stays below saturation, a
//   solid reached is tied (see ties.hpp), a solid whose amount turns negative is let go, the
//   objective never rises. The direction comes from the logarithmic balances ln(P_j / N_j) = 0,
//   where P_j and N_j collect the positive and negative contributions to balance j: exact in one
//   step where a single species leads each side, so tens of orders of magnitude cost no more than
//   one. Where it is no descent direction of the convex objective, or fails its line search, the
//   plain Newton direction takes its place.
// refine(): full Newton on ln m and the free potentials together with the derivatives of the
// activity
//   model, ties held; then solids are exchanged until none is supersaturated and none negative.

#include <cstddef>
#include <span>
#include <vector>

#include "aeruca/activity.hpp"
#include "aeruca/errors.hpp"
#include "equilibrium/chemistry.hpp"
#include "equilibrium/ties.hpp"

namespace aeruca::detail {

/// exp of what is not absurdly large; e^230 beyond.
double bounded_exp(double exponent);

class Solver {
 public:
  /// The chemistry must outlive the solver's use of it. `activity` may be null: ln gamma = 0, a(w)
  /// = 1.
  void prepare(const Chemistry& chemistry, const Activity* activity, std::size_t model_species);

  /// Everything from nothing: start, descend, refine; without solids first when refine balks.
  Status solve(int iteration_limit);
  /// The long ways, by small shares of ln gamma and ln a(H2O).
  Status solve_from_ideal(int iteration_limit);

  /// ln gamma and ln a(H2O) in use; refine() sets them from the activity model.
  std::vector<double> ln_gamma;
  double ln_water = 0;
  std::vector<double> lambda;    ///< by column
  std::vector<double> u;         ///< ln molality
  std::vector<double> molality;  ///< exp(u)
  Ties ties;
  std::vector<double> amount;  ///< of ties.phases(), never negative
  int iterations = 0;

  void start();
  Status descend(double tolerance, int iteration_limit);
  Status refine(double share, int iteration_limit);  ///< `share` of ln gamma and ln a(H2O) counted
  /// Activity coefficients at the present molalities, without moving anything.
  void update_activity();
  /// What the activity model said last.
  [[nodiscard]] const ActivityValues& model_values() const { return values_; }
  /// ln(P/N) of the charge balance at the present molalities.
  [[nodiscard]] double charge_imbalance() const;

 private:
  void set_ties_changed();
  void evaluate_species();
  void make_feasible();
  void sweep(int times);
  void assemble_balances();
  double largest_residual() const;
  bool logarithmic_direction();
  void newton_direction();
  double slope() const;
  double slope_at(double step);
  double search(bool exact, std::size_t& block);
  bool tie_phase(std::size_t phase);
  void move(double step);
  std::size_t blocking_phase(double& step) const;
  std::size_t drop_worst(double tolerance);
  bool add_worst(double tolerance);
  bool find_amounts();
  Status newton(int iteration_limit);
  bool newton_step();
  void choose_charge_row();
  void solve_coupling();
  Status guess(int iteration_limit);
  Status guess_neutral(int iteration_limit);
  Status first_guess(int iteration_limit);
  Status continuation(int iteration_limit);
  Status along_curve(int iteration_limit);
  Status from_bare_solution(Status (Solver::*way)(int), int iteration_limit);

  Status follow();
  double curve_coupling(std::size_t i, std::size_t j) const;
  double curve_pull(std::size_t i) const;
  bool solve_curve(bool residuals, double length);
  void move_on_curve(double step);
  double curve_error();
  void list_major();
  bool correct_on_curve();
  bool settle_solids();
  Status ideal_answer(int iteration_limit);

  const Chemistry* chemistry_ = nullptr;
  const Activity* activity_ = nullptr;
  Chemistry held_;  // the chemistry with the hydrogen potential pinned as well
  ActivityValues values_;
  std::vector<double> model_molality_;
  std::vector<double> reduced_;        // species rows over the free potentials
  std::vector<double> reduced_water_;  // species
  std::vector<double> reduced_totals_;
  std::vector<double> positive_, negative_, residual_;  // by free potential
  std::vector<double> jacobian_, direction_, full_direction_, speed_, right_;
  std::vector<std::size_t> order_;
  std::vector<double> rho_, response_, coupling_, du_;
  std::vector<double> border_;
  std::vector<std::size_t> major_, major_order_;
  std::vector<double> dissolved_, all_amounts_;
  double share_ = 1;
  bool solids_form_ = true;
  std::size_t charge_row_ = kNone;  // free potential whose balance is replaced by that of charge
};

}  // namespace aeruca::detail
