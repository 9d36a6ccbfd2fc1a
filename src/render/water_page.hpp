#pragma once

// What a page of a water leaves out, alike with and without ranges; JSON has all.

namespace aeruca::detail {

inline constexpr double kLeastPercent = 0.1;    // share of an element that gets a line
inline constexpr double kLeastIndexShown = -3;  // saturation index; of a range its upper end

}  // namespace aeruca::detail
