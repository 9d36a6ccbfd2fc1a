#pragma once

// The mass of gel that just keeps to a limit.

#include <functional>

namespace aeruca::detail {

/// The least mass (kg) for which `excess` (of humidity over the limit, falling with the mass) is not
/// above 0: to 1e-6 of it, or, with a guess, to 1e-4; 0 when none is needed, infinite beyond 10
/// tonnes a cubic metre. `guess_kg`: NaN where there is none.
[[nodiscard]] double gel_mass(double volume_m3, const std::function<double(double)>& excess,
                              double guess_kg);

}  // namespace aeruca::detail
