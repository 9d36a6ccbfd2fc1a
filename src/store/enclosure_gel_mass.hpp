#pragma once

// The mass of gel that just keeps to a limit.

#include <functional>

namespace aeruca::detail {

/// The least mass (kg) for which `excess` (of humidity over the limit, falling with the mass) is not
/// above 0, to 1e-6 of it; 0 when none is needed, infinite beyond 10 tonnes a cubic metre.
[[nodiscard]] double gel_mass(double volume_m3, const std::function<double(double)>& excess);

/// By how much a mass has to grow to be right, as far as can be told from following it: above 1 where
/// it is too little.
using Growth = std::function<double(double gel_kg)>;
/// The same from a guess by what a mass itself says of the right one, to 1e-3 of it; NaN where that
/// does not settle.
[[nodiscard]] double gel_mass_from(double guess_kg, const Growth& growth);

}  // namespace aeruca::detail
