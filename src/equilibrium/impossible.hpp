#pragma once

// Why no water can be what was asked: proofs, found apart from the solver and checked apart from
// where they are found.
//
// Balances. With molalities m, amounts of solids n >= 0 and reservoirs r of either sign,
//   sum_i a_i m_i + sum_s a_s n_s + sum_k p_k r_k = T
// has no solution exactly when there are weights y of the balances with (Farkas 1902)
//   y . a_i >= 0, y . a_s >= 0, y . p_k = 0, y . T < 0.
// They are the negative residual of the least squares problem with non-negative unknowns (Lawson
// and Hanson 1974, Solving Least Squares Problems, chapter 23).
//
// Activities. What is held (pH, Eh, gases) may fix the activity of a species alone, or a product of
// two: weights y of what is held with a_i + q a_j = sum_k y_k p_k, q >= 0, give
//   ln a_i + q ln a_j = c + w ln a_w,  c = g_i + q g_j - sum_k y_k g_k, w likewise,
// and m_i + m_j is least where m_j = q m_i. In an ideal solution of up to 1000 mol/kg, where
// -M_w 1000 <= ln a_w <= 0, that is a proof. With another activity model it is none, for its
// coefficients have no bound there: it is what an ideal solution in pure water would ask for, and
// said as such. Or what is held keeps a solid supersaturated, which would then form without end.

#include <optional>
#include <vector>

#include "equilibrium/bounds.hpp"
#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

/// Weights of the balances, by column; nothing when none were found.
[[nodiscard]] std::vector<double> contradicting_balances(const Chemistry& chemistry);

/// True when the weights prove that the balances cannot hold.
[[nodiscard]] bool balances_contradict(const Chemistry& chemistry,
                                       const std::vector<double>& weights);

/// Species whose activities what is held fixes so high that, ideal in water of activity 1, they
/// would pass `kMostMolality`.
struct TooHigh {
  std::size_t first = kNone, second = kNone;  ///< species; the second may be missing
  double share = 0;                           ///< q
  std::vector<double> weights;                ///< y, by what is held
};
/// The pair, or the one species, that would be highest; nothing below `kMostMolality`.
[[nodiscard]] std::optional<TooHigh> held_too_high(const Chemistry& chemistry);

/// What the weights prove, mol/kg of the two together; 0 when they prove nothing.
struct LeastMolality {
  double in_pure_water = 0;  ///< in an ideal solution with a_w = 1
  double in_any_ideal = 0;   ///< in every ideal solution of up to `kMostMolality`
};
[[nodiscard]] LeastMolality least_molality(const Chemistry& chemistry, const TooHigh& found);

/// A solid that what is held alone keeps supersaturated; kNone when there is none.
[[nodiscard]] std::size_t endless_solid(const Chemistry& chemistry);

}  // namespace aeruca::detail
