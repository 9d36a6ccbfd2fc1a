#pragma once

// Heats and heat capacities of reactions for which none was found: the isocoulombic rule that
// `aeruca/dataset.hpp` states under Temperature.

#include "dataset/records.hpp"

namespace aeruca::detail {

/// What a reaction makes: charges of each sign, and moles of gas. An electron counts as half a mole
/// of H2(g) less H(+), the gas uncounted.
struct Made {
  double charges = 0;
  double gas = 0;
};
Made made_by(const Terms& terms, const Records& records);

/// H2O = H(+) + OH(-) at 25 degrees C.
struct WaterIonisation {
  double log10_k = 0, enthalpy_kj_per_mol = 0, heat_capacity_j_per_mol_k = 0;
};

/// Of a reaction with this constant (log10, 25 degrees C): value in kJ/mol with the uncertainty of
/// the rule. Source and subject are those of `constant`, the figure that gives it.
Figure estimated_enthalpy(const Figure& constant, double log10_k, const Made& made,
                          const WaterIonisation& water);
/// Likewise, in J/(mol K).
Figure estimated_heat_capacity(const Figure& constant, const Made& made,
                               const WaterIonisation& water);

}  // namespace aeruca::detail
