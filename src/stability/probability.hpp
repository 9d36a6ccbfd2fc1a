#pragma once

// Which candidate is the most stable when the constants are uncertain.

#include <cstdint>
#include <span>
#include <vector>

#include "stability/system.hpp"

namespace aeruca::detail {

/// (points, candidates) row-major; NaN where a coordinate is NaN.
[[nodiscard]] std::vector<double> probabilities_at(const System& system, std::span<const double> x,
                                                   std::span<const double> y, int samples,
                                                   std::uint64_t seed);

}  // namespace aeruca::detail
