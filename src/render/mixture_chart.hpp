#pragma once

// Phases of a mixture against humidity, drawn with characters.

#include <string>

#include "aeruca/mixture.hpp"

namespace aeruca::detail {

/// A row for each solid, in the order in which they go, and one for the brine; a column for every
/// 2 % RH. '#': there; '.': not; '?': no answer. Empty without states.
[[nodiscard]] std::string mixture_chart(const MixtureSweep& sweep);

}  // namespace aeruca::detail
