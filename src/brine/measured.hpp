#pragma once

#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// Measured, evaluated and compiled deliquescence humidities of a solid; computed ones are left
/// out.
[[nodiscard]] std::vector<MeasuredHumidity> humidities_of(const Dataset& dataset,
                                                          std::string_view solid);

}  // namespace aeruca::detail
