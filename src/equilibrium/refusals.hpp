#pragma once

// Answers that the data cannot carry, refused by name.

#include <span>
#include <string>
#include <vector>

#include "equilibrium/system.hpp"

namespace aeruca::detail {

/// Throws InputError for a component that is present (totals by system column) and whose acid or
/// base is not known.
void refuse_unknown_acids(const WaterSystem& system, std::span<const double> totals);

/// Pairs of ions without parameters on which a water with these molalities (by species of the water)
/// would rest: one of them at 0.1 mol/kg or more, the other too or no trace of what it is made of.
[[nodiscard]] std::vector<MissingPair> pairs_that_matter(const WaterSystem& system,
                                                         const Water& water,
                                                         std::span<const double> molality);

/// The sentence for them.
[[nodiscard]] std::string pairs_in_words(const WaterSystem& system,
                                         const std::vector<MissingPair>& pairs);

}  // namespace aeruca::detail
