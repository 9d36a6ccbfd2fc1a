// Ionic product of water. Source of every coefficient: IAPWS R11-07, Release on the Ionization
// Constant of H2O, Table 2 (after Bandura & Lvov 2006, J. Phys. Chem. Ref. Data 35, 15,
// doi 10.1063/1.1928231).

#include <array>
#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "water/range.hpp"

namespace aeruca {
namespace {

constexpr double kHydrationNumber = 6.0;
constexpr std::array kAlpha = {-0.864671, 8659.19, -22786.2};  // 1, K, K2 (g/cm3)^(-2/3)
constexpr std::array kBeta = {0.642044, -56.8534,
                              -0.375754};  // (g/cm3)^-1, K (g/cm3)^-1, (g/cm3)^-2
constexpr std::array kGas = {0.614150, 48251.33, -67707.93, 10102100.0};  // 1, K, K2, K3

}  // namespace

double pkw(double temperature_c, double density_kg_per_m3) {
  detail::require_range("temperature_c", temperature_c, 0.0, 800.0, "degrees C");
  detail::require_range("density_kg_per_m3", density_kg_per_m3, 1e-6, 1250.0, "kg/m3");
  const double kelvin = temperature_c + kZeroCelsius;
  const double rho = density_kg_per_m3 / 1000.0;  // the release counts in g/cm3
  const double q = rho * std::exp(kAlpha[0] + kAlpha[1] / kelvin +
                                  kAlpha[2] / (kelvin * kelvin) * std::cbrt(rho * rho));    // eq 4
  const double gas = kGas[0] + (kGas[1] + (kGas[2] + kGas[3] / kelvin) / kelvin) / kelvin;  // eq 5
  const double shell = rho * (kBeta[0] + kBeta[1] / kelvin + kBeta[2] * rho);
  const double hydration = std::log1p(q) / kLn10 - q / (q + 1.0) * shell;
  return -2.0 * kHydrationNumber * hydration + gas + 2.0 * std::log10(kWaterMolarMass);  // eq 3
}

}  // namespace aeruca
