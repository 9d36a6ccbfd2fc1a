#pragma once

// Words for the components of a data set.

#include <string>
#include <string_view>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// "copper" for Cu(2+), "sodium" for Na(+), "sulfate" for SO4(2-).
std::string ion_word(const Species& ion);

/// Water, its protons and electrons: what every water has without being weighed in.
bool is_water_component(std::string_view component);

/// The text in lower case, without space at either end.
std::string as_word(std::string_view text);

}  // namespace aeruca::detail
