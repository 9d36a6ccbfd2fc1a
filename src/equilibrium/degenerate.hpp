#pragma once

// Which solids could stand for each other without changing the water: those at saturation whose
// compositions, apart from what is held, depend on each other.

#include <vector>

#include "equilibrium/certify.hpp"

namespace aeruca::detail {

/// Positions among the phases; empty when the amounts of the answer are the only ones.
[[nodiscard]] std::vector<std::size_t> replaceable_solids(const Chemistry& chemistry,
                                                          const Answer& answer, double ln_water);

}  // namespace aeruca::detail
