#pragma once

// The last resort: the curve of answers over the share of ln gamma that is counted (follow.cpp).

#include "equilibrium/refine.hpp"

namespace aeruca::detail {

class Curve {
 public:
  /// From an answer at share 0 to a place near the answer at share 1.
  Status follow(WaterState& w);

 private:
  static double curve_coupling(WaterState& w, std::size_t i, std::size_t j);
  static double curve_pull(WaterState& w, std::size_t i);
  bool solve_curve(WaterState& w, bool residuals, double length);
  void move_on_curve(WaterState& w, double step);
  void list_major(WaterState& w);
  bool correct_on_curve(WaterState& w);
  bool settle_solids(WaterState& w);

  Refinement full_;
  std::vector<std::size_t> major_;  // species that are unknowns of their own
  std::vector<double> border_;      // last row: fixes the length or the direction of a step
  std::vector<double> matrix_;      // bordered Jacobian
  std::vector<std::size_t> order_;  // its pivots
  std::vector<double> step_;        // right side, then d ln m, d lambda, d share
};

}  // namespace aeruca::detail
