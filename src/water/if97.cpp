// Saturation pressure and density of liquid water.
// Source of every coefficient: IAPWS R7-97(2012), Revised Release on the IAPWS Industrial
// Formulation 1997 for the Thermodynamic Properties of Water and Steam: Table 34 (region 4), Table
// 2 (region 1).

#include <array>
#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "water/range.hpp"

namespace aeruca {
namespace {

constexpr double kGasConstantOfWater = 461.526;  // J/(kg K), eq 1 of the release
constexpr double kCriticalCelsius = 647.096 - kZeroCelsius;

constexpr std::array<double, 10> kRegion4 = {
    0.11670521452767e4,  -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
    -0.32325550322333e7, 0.14915108613530e2,  -0.48232657361591e4, 0.40511340542057e6,
    -0.23855557567849e0, 0.65017534844798e3};

struct Region1Term {
  int i, j;
  double n;
};

constexpr std::array<Region1Term, 34> kRegion1 = {{
    {0, -2, 0.14632971213167e0},      {0, -1, -0.84548187169114e0},
    {0, 0, -0.37563603672040e1},      {0, 1, 0.33855169168385e1},
    {0, 2, -0.95791963387872e0},      {0, 3, 0.15772038513228e0},
    {0, 4, -0.16616417199501e-1},     {0, 5, 0.81214629983568e-3},
    {1, -9, 0.28319080123804e-3},     {1, -7, -0.60706301565874e-3},
    {1, -1, -0.18990068218419e-1},    {1, 0, -0.32529748770505e-1},
    {1, 1, -0.21841717175414e-1},     {1, 3, -0.52838357969930e-4},
    {2, -3, -0.47184321073267e-3},    {2, 0, -0.30001780793026e-3},
    {2, 1, 0.47661393906987e-4},      {2, 3, -0.44141845330846e-5},
    {2, 17, -0.72694996297594e-15},   {3, -4, -0.31679644845054e-4},
    {3, 0, -0.28270797985312e-5},     {3, 6, -0.85205128120103e-9},
    {4, -5, -0.22425281908000e-5},    {4, -2, -0.65171222895601e-6},
    {4, 10, -0.14341729937924e-12},   {5, -8, -0.40516996860117e-6},
    {8, -11, -0.12734301741641e-8},   {8, -6, -0.17424871230634e-9},
    {21, -29, -0.68762131295531e-18}, {23, -31, 0.14478307828521e-19},
    {29, -38, 0.26335781662795e-22},  {30, -39, -0.11947622640071e-22},
    {31, -40, 0.18228094581404e-23},  {32, -41, -0.93537087292458e-25},
}};

}  // namespace

double saturation_pressure_pa(double temperature_c) {
  detail::require_range("temperature_c", temperature_c, 0.0, kCriticalCelsius, "degrees C");
  const auto& n = kRegion4;
  const double kelvin = temperature_c + kZeroCelsius;
  const double theta = kelvin + n[8] / (kelvin - n[9]);  // eq 29b
  const double a = theta * theta + n[0] * theta + n[1];
  const double b = n[2] * theta * theta + n[3] * theta + n[4];
  const double c = n[5] * theta * theta + n[6] * theta + n[7];
  const double root = 2.0 * c / (-b + std::sqrt(b * b - 4.0 * a * c));  // eq 30
  return 1e6 * root * root * root * root;
}

double density_kg_per_m3(double temperature_c, double pressure_pa) {
  detail::require_range("temperature_c", temperature_c, 0.0, 350.0, "degrees C");
  if (std::isnan(temperature_c) || std::isnan(pressure_pa)) return std::nan("");
  // eq 30 and eq 7 meet within 0.003 %, so the very boundary is let through.
  const double lowest = saturation_pressure_pa(temperature_c) * (1.0 - 1e-9);
  detail::require_range("pressure_pa", pressure_pa, lowest, 1e8, "Pa (liquid water)");
  const double kelvin = temperature_c + kZeroCelsius;
  const double pi = pressure_pa / 16.53e6;
  const double tau = 1386.0 / kelvin;
  double slope = 0;  // d gamma / d pi, Table 4
  for (const auto& [i, j, n] : kRegion1) {
    if (i > 0) slope -= n * i * std::pow(7.1 - pi, i - 1) * std::pow(tau - 1.222, j);
  }
  return pressure_pa / (pi * slope * kGasConstantOfWater * kelvin);
}

}  // namespace aeruca
