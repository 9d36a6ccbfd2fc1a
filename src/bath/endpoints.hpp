#pragma once

// Published rules of stopping, judged on the bodies of a posterior.

#include <vector>

#include "aeruca/bath_decision.hpp"
#include "bath/future.hpp"

namespace aeruca::detail {

/// Limit that the last bath to state one states; NaN: none does.
[[nodiscard]] double latest_limit(const BathLog& log);

/// `stop_mg_per_l`: a level of one's own, judged first; NaN: none.
[[nodiscard]] std::vector<EndpointVerdict> judge_endpoints(const BathLog& log,
                                                           const Dataset& dataset,
                                                           const Future& future,
                                                           double object_mass_g,
                                                           double stop_mg_per_l);

}  // namespace aeruca::detail
