#include <algorithm>
#include <cmath>
#include <numbers>

#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "water/range.hpp"

namespace aeruca {
namespace {

constexpr double kVacuumPermittivity = 8.8541878128e-12;  // F/m, CODATA 2018
constexpr double kAtmosphere = 101325.0;

}  // namespace

DebyeHueckelSlopes debye_hueckel_slopes(double temperature_c) {
  detail::require_range("temperature_c", temperature_c, 0.0, 100.0, "degrees C");
  const double pressure = std::max(kAtmosphere, saturation_pressure_pa(temperature_c));
  const double rho = density_kg_per_m3(temperature_c, pressure);
  const double kelvin = temperature_c + kZeroCelsius;
  const double polar = kVacuumPermittivity * permittivity(temperature_c, rho) * kBoltzmann * kelvin;
  const double charge2 = kElementaryCharge * kElementaryCharge;
  const double bjerrum = charge2 / (4.0 * std::numbers::pi * polar);  // m
  const double a_ln = std::sqrt(2.0 * std::numbers::pi * kAvogadro * rho) * std::pow(bjerrum, 1.5);
  const double b_per_metre = std::sqrt(2.0 * kAvogadro * rho * charge2 / polar);
  return {a_ln / kLn10, b_per_metre * 1e-10, a_ln / 3.0};
}

}  // namespace aeruca
