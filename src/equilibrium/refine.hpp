#pragma once

// The full stage: Newton on ln m and the free potentials together with the derivatives of the
// activity model, ties held,
//   ln m_i + ln gamma_i(m) = constant_i + w_i ln a_w(m) + row_i . lambda,   ln(P_j / N_j) = 0;
// then solids are exchanged until none is supersaturated and none negative.

#include "equilibrium/water_state.hpp"

namespace aeruca::detail {

class Refinement {
 public:
  /// `share` of ln gamma and ln a(H2O) counted.
  Status refine(WaterState& w, double share, int iteration_limit);
  /// With the solids that are tied.
  Status newton(WaterState& w, int iteration_limit);

 private:
  bool newton_step(WaterState& w);
  void list_major(const WaterState& w);
  [[nodiscard]] bool moves_water_alone(const WaterState& w) const;
  void couple_through_water(const WaterState& w, std::size_t columns);
  bool solve_major(const WaterState& w, std::size_t columns);
  void solve_coupling(WaterState& w);
  static const double* slopes_of(const WaterState& w, std::size_t i);

  std::vector<std::size_t> major_;            // species that move the activity of others
  std::vector<char> is_major_;                // by species
  std::vector<std::size_t> slot_;             // of the major species in the activity model
  std::vector<double> moles_, to_water_;      // of these, share m_j and share m_j d ln a_w/dm_j
  std::vector<double> by_water_;              // what moves ln a_w, by column of the right sides
  std::vector<double> coupling_, coupled_;    // their matrix I + K and its right sides
  std::vector<std::size_t> coupling_order_;   // pivots of coupling_
  std::vector<double> response_;              // du_i by free potential, then for lack alone
  std::vector<double> jacobian_, direction_;  // of the free potentials
  std::vector<std::size_t> order_;            // pivots of jacobian_
  std::vector<double> change_;                // of u
};

}  // namespace aeruca::detail
