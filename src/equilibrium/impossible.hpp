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
// Activities. What is held (pH, Eh, gases) may fix the activity of a species alone, or the product
// of two; then their molalities together have a least value that no solution reaches. Or it keeps a
// solid supersaturated, which would then form without end.

#include <optional>
#include <vector>

#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

inline constexpr double kMostMolality =
    1000;  // mol/kg, of what is weighed in as of what is dissolved

/// Weights of the balances, by column; nothing when none were found.
[[nodiscard]] std::vector<double> contradicting_balances(const Chemistry& chemistry);

/// True when the weights prove that the balances cannot hold.
[[nodiscard]] bool balances_contradict(const Chemistry& chemistry,
                                       const std::vector<double>& weights);

/// Species whose activities what is held fixes so high that, ideal in water of activity 1, they
/// would pass `kMostMolality`.
struct TooHigh {
  std::size_t first = kNone, second = kNone;  ///< species; the second may be missing
  double molality = 0;                        ///< the least of both together, mol/kg
};
[[nodiscard]] std::optional<TooHigh> held_too_high(const Chemistry& chemistry);

/// A solid that what is held alone keeps supersaturated; kNone when there is none.
[[nodiscard]] std::size_t endless_solid(const Chemistry& chemistry);

}  // namespace aeruca::detail
