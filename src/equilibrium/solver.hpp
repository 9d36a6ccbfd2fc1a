#pragma once

// The equilibrium of one water: the state of the water, and the ways from nothing to its answer.

#include "equilibrium/descend.hpp"
#include "equilibrium/follow.hpp"
#include "equilibrium/refine.hpp"
#include "equilibrium/water_state.hpp"

namespace aeruca::detail {

class Solver : public WaterState {
 public:
  /// Everything from nothing: start, descend, refine; without solids first when refine balks.
  Status solve(int iteration_limit);
  /// The long ways, by small shares of ln gamma and ln a(H2O).
  Status solve_from_ideal(int iteration_limit);
  /// The answer of the ideal solution in pure water.
  Status ideal_answer(int iteration_limit);
  /// The full stage from where the water stands.
  Status refine(double share_counted, int iteration_limit) {
    return full_.refine(*this, share_counted, iteration_limit);
  }

 private:
  Status guess(int iteration_limit);
  Status guess_neutral(int iteration_limit);
  Status first_guess(int iteration_limit);
  Status continuation(int iteration_limit);
  Status along_curve(int iteration_limit);
  Status from_bare_solution(Status (Solver::*way)(int), int iteration_limit);

  Descent convex_;
  Refinement full_;
  Curve curve_;
  std::vector<double> before_;  // ln gamma of the guess before
  Chemistry held_;              // the chemistry with the hydrogen potential pinned as well
};

}  // namespace aeruca::detail
