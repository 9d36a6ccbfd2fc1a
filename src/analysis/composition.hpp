#pragma once

// What a species holds of one component, in a data set that may lack the component.

#include <algorithm>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

inline double held_of(const Dataset& dataset, const Species& species, std::string_view component) {
  const auto& names = dataset.components;
  const auto found = std::find(names.begin(), names.end(), component);
  return found == names.end() ? 0
                              : species.components[static_cast<std::size_t>(found - names.begin())];
}

}  // namespace aeruca::detail
