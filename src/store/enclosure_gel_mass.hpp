#pragma once

// How much gel keeps an enclosure below its limit.

#include <functional>

namespace aeruca::detail {

/// The least dry mass (kg) for which `excess(mass)`, the peak over the limit, is not above 0; it falls
/// with the mass. 0 where none is needed, infinite where ten tons for each m3 are not enough. To
/// 1e-6 of itself.
[[nodiscard]] double gel_mass(double volume_m3, const std::function<double(double)>& excess);

}  // namespace aeruca::detail
