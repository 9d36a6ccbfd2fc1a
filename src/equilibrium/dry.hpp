#pragma once

// A water at a held water activity, as in air, that has no solution: salts alone, and the proof.
//
// Solids. Their amounts n are those of the linear program
//   maximise  sum_s n_s (constant_s + water_s ln a(w))  under  sum_s n_s row_s = totals,  n >= 0,
// whose prices are minus the potentials lambda of the components: no solid is supersaturated, those
// that are there are just saturated.
//
// No solution. To take m moles of each species and 1 kg of water out of these solids and the air
// costs, over RT and with g free, for the solution is neutral,
//   F(m) = sum_i m_i (ln m_i gamma_i - value_i(lambda) - g s_i) + (ln a(w) of m - ln a(w) held) / M_w,
// whose derivative by m_i is the bracket alone (Gibbs and Duhem). No brine forms where F >= 0 at its
// minimum. At rest, with the brackets 0, that is what the solution's own water activity is above the
// one held; a model that has no such place in its range is followed to the end of it, on which the
// brackets are a push t z_i^2 / 2 with t < 0 and F = t I + the rest. ln a(w) held + M_w F is the
// water activity that the `nearest` solution needs. Places are sought from several starts and are
// minima where the solution is stable; that there is no other is proven for a convex model only.

#include <vector>

#include "equilibrium/system.hpp"

namespace aeruca::detail {

struct DryWater {
  Status status = Status::iteration_limit;  ///< converged: the solids, and no solution, are proven
  std::vector<double> amount;               ///< mol, as the totals, by phase
  std::vector<double> lambda;               ///< by column
  double mass_balance = 0;                  ///< largest relative error of the balances
  double supersaturation = 0;               ///< largest ln saturation of any solid
  double nearest_ln_water = 0;              ///< that the nearest solution needs; above the one held
  double stability = 0;                     ///< of that solution
  bool to_end_of_range = false;  ///< proven for solutions up to the end of the model's range alone
  bool degenerate = false;       ///< other potentials serve as well
};

/// Of the totals in `water`, whose pH and Eh are held. Solids that take or give H(+) or electrons
/// are left out: with no water there is nothing that could hold a pH. `infeasible` where the solids
/// cannot hold the totals, `unstable` where a solution forms (`nearest_ln_water` is below).
[[nodiscard]] DryWater solve_dry(const WaterSystem& system, const Water& water, double ln_water);

}  // namespace aeruca::detail
