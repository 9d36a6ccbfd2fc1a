#pragma once

// What the saturation index of a solid owes to each constant of the water, and not to its own
// alone.

#include "aeruca/equilibrium.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca::detail {

/// The index of every solid of a converged result as a sum of constants: its own counts once, that
/// of a dissolved species -d(index)/d(log10 K) times, from the balances of the water differentiated
/// at its activity coefficients. Where all copper is in one complex that counts -1, and what solid
/// and complex owe to one figure cancels. Constants that count less than 1e-6 are left out.
std::map<std::string, Balance> index_balances(const EquilibriumResult& result,
                                              const EquilibriumInput& input,
                                              const EquilibriumOptions& options,
                                              const Dataset& dataset);

}  // namespace aeruca::detail
