#pragma once

// Where a solution is saturated with its salt.

#include <span>
#include <utility>
#include <vector>

#include "brine/salt_model.hpp"

namespace aeruca::detail {

/// Value of a table inside its range, through its points: monotone cubic from four points on,
/// straight lines below. NaN outside, for an empty table and for NaN.
[[nodiscard]] double interpolate(std::span<const std::pair<double, double>> table, double x);

/// Lowest molality up to 30 mol/kg at which the product reaches ln K; NaN when there is none.
[[nodiscard]] double saturation_molality(const SaltModel& model, double ln_k);

}  // namespace aeruca::detail
