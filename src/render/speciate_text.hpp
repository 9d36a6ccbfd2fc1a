#pragma once

// How one water at equilibrium reads: the water, each element and where it is, the solids and what
// each would need.

#include <string>

#include "aeruca/analysis.hpp"

namespace aeruca::detail {

/// Text of a converged and certified answer; of another, its certificate only.
std::string speciate_text(const SolvedWater& solved, const Dataset& dataset);

}  // namespace aeruca::detail
