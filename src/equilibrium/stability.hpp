#pragma once

// Is a solution stable, that is, a minimum of its Gibbs energy and not a saddle?
//
// Per kilogram of water G / RT has the second derivatives H_ij = delta_ij / m_i + d ln gamma_i/d
// m_j in the molalities. Scaled by the square roots of the molalities they are I + K with
//   K_ij = sqrt(m_i m_j) d ln gamma_i / d m_j,
// symmetric because every model is the gradient of one excess function. The solution neither
// separates into two nor drifts when I + K is positive definite over electroneutral changes, sum_i
// z_i dm_i = 0. Changes of the solvent are covered: G is homogeneous in all amounts, so with water
// free as well its second derivatives are as definite as these and zero along the composition
// itself. (For example Tester and Modell 1997, Thermodynamics and its Applications, chapter 7.)

#include <cstddef>
#include <span>

#include "aeruca/activity.hpp"

namespace aeruca::detail {

/// Smallest eigenvalue of I + K over electroneutral changes; where it is above 1/2, a lower bound
/// of it. `charge`, `slot` (position in the model) and `molality` by dissolved species, `values`
/// the model at these molalities. NaN when the model gives no finite figure.
[[nodiscard]] double solution_stability(std::span<const double> charge,
                                        std::span<const std::size_t> slot,
                                        std::span<const double> molality,
                                        const ActivityValues& values);

}  // namespace aeruca::detail
