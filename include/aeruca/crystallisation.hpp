#pragma once

/// \file
/// Where a drying salt crystallises: measured, not an equilibrium.
///
/// A brine may stay liquid far below the humidity at which it formed. How far hangs on size, on what
/// there is to grow on, on rate and on luck: the figures are of droplets without a surface, the
/// lowest that can be; in a pore or on a corrosion layer crystals come earlier. Between them and the
/// deliquescence humidity only history tells whether a salt is dry, so that a record that has been
/// above the one counts as possibly wet until it has been below the other (`store.hpp`).

#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca {

/// Of a salt, by any of its names; the highest first. Empty: none is known. Throws UnknownName.
[[nodiscard]] std::vector<MeasuredHumidity> crystallisation_humidities(const Dataset& dataset,
                                                                       std::string_view salt);

}  // namespace aeruca
