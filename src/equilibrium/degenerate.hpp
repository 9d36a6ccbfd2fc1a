#pragma once

// Which solids could stand for each other without changing the water: those at saturation whose
// compositions, apart from what is held, depend on each other.

#include <span>
#include <vector>

#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

/// What there is beside a solution.
struct Assemblage {
  std::span<const double> lambda;       ///< of the solution, by column
  std::span<const std::size_t> solids;  ///< tied, independent of each other
  std::span<const double> amounts;      ///< of these
};

/// Positions among the phases; empty when the amounts of the answer are the only ones.
[[nodiscard]] std::vector<std::size_t> replaceable_solids(const Chemistry& chemistry,
                                                          const Assemblage& there, double ln_water);

}  // namespace aeruca::detail
