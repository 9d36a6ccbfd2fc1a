#pragma once

// How sure a sum of constants is: log10 K of a reaction, a saturation index, a gap between two
// fields. What several constants owe to one figure of the data set adds with its sign.

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// Species of the data set and how often the constant of each counts, products positive.
using Balance = std::vector<std::pair<std::string, double>>;

/// One standard uncertainty of the sum at a temperature (0 to 50 degrees C), in log10 K.
double stated_uncertainty(const Dataset& dataset, const Balance& balance, double temperature_c);

/// Errors of a constant: number of the figure, contribution of one standard uncertainty of it.
/// Constants that rest on the same figure err together.
using Errors = std::vector<std::pair<std::size_t, double>>;

/// Errors of a species' constant at a temperature, numbered by place in `names`, to which figures
/// met for the first time are added. A constant of which it is not told what it rests on errs
/// alone.
[[nodiscard]] Errors errors_of(const Dataset& dataset, const Species& species, double temperature_c,
                               std::vector<std::string>& names);

}  // namespace aeruca::detail
