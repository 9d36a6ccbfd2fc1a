#pragma once

// Oxygen in water: how much, and how fast it moves.

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// m2/s at a temperature; goes as T over the viscosity of water (Walden; Stokes and Einstein).
double oxygen_diffusivity(const Dataset& dataset, double temperature_c);
/// mol per m3 of water under so much oxygen, by its two constants in the data set.
double oxygen_in_water(const Dataset& dataset, double oxygen_bar, double temperature_c);

}  // namespace aeruca::detail
