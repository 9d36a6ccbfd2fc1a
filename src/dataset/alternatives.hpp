#pragma once

#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// Figures that stand beside a chosen one: same subject, quantity, conditions and unit, with a
/// value of their own. They point into the data set.
std::vector<const Figure*> alternatives(const Dataset& dataset, const Figure& chosen);

}  // namespace aeruca::detail
