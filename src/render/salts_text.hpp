#pragma once

// How `aeruca salts` reads: limits published, one solution, a table of salts or one in detail.

#include <string>
#include <vector>

#include "aeruca/brine.hpp"
#include "aeruca/hydration.hpp"

namespace aeruca::detail {

std::string onset_text(const Dataset& dataset);
std::string onset_json(const Dataset& dataset);

std::string solution_text(const SaltSolution& solution, const Dataset& dataset);
std::string solution_json(const SaltSolution& solution, const Dataset& dataset);

/// A table of many salts at one temperature.
std::string salts_text(const std::vector<Deliquescence>& salts, double temperature_c,
                       const Dataset& dataset);
/// One salt with all that supports or contradicts its figure.
std::string salt_text(const Deliquescence& salt, const std::vector<HydrationChange>& hydration,
                      const Dataset& dataset);
std::string salt_json(const Deliquescence& salt, const std::vector<HydrationChange>& hydration,
                      const Dataset& dataset);
std::string salts_json(const std::vector<Deliquescence>& salts, const Dataset& dataset);

}  // namespace aeruca::detail
