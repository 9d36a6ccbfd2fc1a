#pragma once

// How `aeruca salts` tells of a mixture: the windows between the onsets.

#include <string>

#include "aeruca/mixture.hpp"
#include "aeruca/salt_analysis.hpp"

namespace aeruca::detail {

std::string mixture_text(const SaltAnalysis& analysis, const MixtureSweep& sweep,
                         const Dataset& dataset);
std::string mixture_json(const SaltAnalysis& analysis, const MixtureSweep& sweep,
                         const Dataset& dataset);

}  // namespace aeruca::detail
