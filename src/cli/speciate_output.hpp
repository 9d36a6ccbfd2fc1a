#pragma once

// How `aeruca speciate` shows its result.

#include <ostream>

#include "aeruca/equilibrium.hpp"

namespace aeruca::cli {

void print_speciation(const EquilibriumResult& result, const EquilibriumOptions& options,
                      const Dataset& dataset, std::ostream& out);
void print_speciation_json(const EquilibriumResult& result, const EquilibriumOptions& options,
                           const Dataset& dataset, std::ostream& out);

}  // namespace aeruca::cli
