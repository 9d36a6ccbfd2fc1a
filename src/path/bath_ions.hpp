#pragma once

// What a bath salt brings into the water of a path.

#include <map>
#include <string>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// mol/kg of each ion but hydroxide, which the balance of charge asks for; none for "water". Throws
/// InputError for a salt that the data set does not make baths of.
[[nodiscard]] std::map<std::string, double> bath_ions(const Dataset& dataset,
                                                      const std::string& salt, double mol_per_l);

/// Whether those ions hold carbonate.
[[nodiscard]] bool holds_carbonate(const std::map<std::string, double>& ions);

}  // namespace aeruca::detail
