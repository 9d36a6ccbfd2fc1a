#pragma once

// Which constants of a water rest on a heat that was estimated, and count in it.

#include <map>
#include <span>
#include <string>
#include <vector>

#include "equilibrium/system.hpp"

namespace aeruca::detail {

/// See EquilibriumResult::estimated_heats. `molality` by species of the water, `formed` by name.
std::vector<std::string> estimated_heats_of(const WaterSystem& system, const Water& water,
                                            std::span<const double> molality,
                                            const std::map<std::string, double>& formed);

}  // namespace aeruca::detail
