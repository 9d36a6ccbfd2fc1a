// Static permittivity of water. Source of every coefficient and constant: IAPWS R8-97, Release on
// the Static Dielectric Constant of Ordinary Water Substance, Tables 1 and 2. The physical
// constants are those of the release, not the SI of 2019: the coefficients were fitted with them.

#include <array>
#include <cmath>
#include <numbers>

#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "water/range.hpp"

namespace aeruca {
namespace {

constexpr double kPolarizability = 1.636e-40;  // C2 m2 / J
constexpr double kDipoleMoment = 6.138e-30;    // C m
constexpr double kReleaseBoltzmann = 1.380658e-23;
constexpr double kReleaseAvogadro = 6.0221367e23;
constexpr double kLightSpeed = 299792458.0;
constexpr double kReleaseVacuumPermittivity =
    1.0 / (4e-7 * std::numbers::pi * kLightSpeed * kLightSpeed);
constexpr double kCriticalDensity = 322.0;
constexpr double kCriticalKelvin = 647.096;

struct CorrelationTerm {
  double n, i, j;
};

constexpr std::array<CorrelationTerm, 11> kCorrelation = {{
    {0.978224486826, 1, 0.25},
    {-0.957771379375, 1, 1},
    {0.237511794148, 1, 2.5},
    {0.714692244396, 2, 1.5},
    {-0.298217036956, 3, 1.5},
    {-0.108863472196, 3, 2.5},
    {0.949327488264e-1, 4, 2},
    {-0.980469816509e-2, 5, 2},
    {0.165167634970e-4, 6, 5},
    {0.937359795772e-4, 7, 0.5},
    {-0.123179218720e-9, 10, 10},
}};
constexpr double kCorrelationLast = 0.196096504426e-2;

// Harris-Alder factor, eq 5.
double dipole_correlation(double kelvin, double density) {
  const double delta = density / kCriticalDensity;
  const double tau = kCriticalKelvin / kelvin;
  double g = 1.0 + kCorrelationLast * delta * std::pow(kelvin / 228.0 - 1.0, -1.2);
  for (const auto& [n, i, j] : kCorrelation) g += n * std::pow(delta, i) * std::pow(tau, j);
  return g;
}

}  // namespace

double permittivity(double temperature_c, double density_kg_per_m3) {
  detail::require_range("temperature_c", temperature_c, 0.0, 600.0, "degrees C");
  detail::require_range("density_kg_per_m3", density_kg_per_m3, 1e-6, 1200.0, "kg/m3");
  const double kelvin = temperature_c + kZeroCelsius;
  const double moles = density_kg_per_m3 / kWaterMolarMass;  // mol/m3
  const double dipole =
      kReleaseAvogadro * kDipoleMoment * kDipoleMoment / kReleaseVacuumPermittivity;
  const double a = dipole * moles * dipole_correlation(kelvin, density_kg_per_m3) /
                   (kReleaseBoltzmann * kelvin);  // eq 2
  const double b =
      kReleaseAvogadro * kPolarizability * moles / (3.0 * kReleaseVacuumPermittivity);  // eq 3
  const double root = std::sqrt(9.0 + 2.0 * a + 18.0 * b + a * a + 10.0 * a * b + 9.0 * b * b);
  return (1.0 + a + 5.0 * b + root) / (4.0 - 4.0 * b);  // eq 1
}

}  // namespace aeruca
