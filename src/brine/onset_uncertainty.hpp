#pragma once

// How sure the humidity is at which a mixture first has a brine.
//
// There the solids s that dissolve and the brine have the same Gibbs energy, and to first order
//   d ln a(w) = M_w (sum_s x_s d ln K_s - d g)
// with x_s the moles of s dissolved in a kilogram of water and g the excess Gibbs energy of the
// solution (per kg of water, in RT): by the equation of Gibbs and Duhem the composition, being at a
// minimum, does not enter. An error of the osmotic coefficient that grows with the strength, epsilon
// at the brine's own, makes d g = epsilon sum m_i.

#include <memory>

#include "aeruca/mixture.hpp"

namespace aeruca::detail {

/// One standard uncertainty (% RH) of the onset between a state without a brine and one with. From
/// the constants of the solids that dissolve there, and from epsilon: 0.01, 0.0003 more for a degree
/// from 25, and beyond the ionic strength the model is meant for 0.02 (x^2 - 1) more, x the strength
/// over that: the rule of a single salt (salt_model.hpp). A mixing term of two or three of the ions
/// that was not published counts as large as those in the data set between ions of such charges are (root mean square),
/// with m_i m_j theta twice and m_i m_j m_k psi once in g.
[[nodiscard]] double onset_uncertainty(const Dataset& dataset, double temperature_c,
                                       double ionic_strength_max, const MixtureState& drier,
                                       const MixtureState& moister);

}  // namespace aeruca::detail
