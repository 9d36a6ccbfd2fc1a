#pragma once

// How sure a sum of constants is: log10 K of a reaction between species of the data set.

#include <string>
#include <utility>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// Species and counts, products positive.
using Balance = std::vector<std::pair<std::string, double>>;

/// One standard uncertainty of log10 K: what several constants owe to one figure adds with its
/// sign.
double stated_uncertainty(const Dataset& dataset, const Balance& balance);
/// The largest change of log10 K when one figure gives way to another published for the same
/// reaction at the same conditions; 0 where there is none.
double widest_change(const Dataset& dataset, const Balance& balance);

}  // namespace aeruca::detail
