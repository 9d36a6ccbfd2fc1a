#pragma once

/// \file
/// The number that stands where no number was given or found.

#include <limits>

namespace aeruca {

/// NaN. Compare with std::isnan; it spreads through sums and products, and JSON shows it as null.
inline constexpr double kNotGiven = std::numeric_limits<double>::quiet_NaN();

}  // namespace aeruca
