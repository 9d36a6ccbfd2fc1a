// Viscosity of liquid water at 0.1 MPa.
// Source of every coefficient: IAPWS SR6-08(2011), Revised Supplementary Release on Properties of
// Liquid Water at 0.1 MPa, Table 4 and eq 8; recalled, and held to the value the release prints.

#include <array>
#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "water/range.hpp"

namespace aeruca {
namespace {

struct Term {
  double a, b;
};
constexpr std::array<Term, 4> kTerms = {
    {{280.68, -1.9}, {511.45, -7.7}, {61.131, -19.6}, {0.45903, -40.0}}};
constexpr double kMicro = 1e-6;

}  // namespace

double viscosity_pa_s(double temperature_c) {
  detail::require_range("temperature_c", temperature_c, 0, 100, "degrees C");
  const double reduced = (temperature_c + kZeroCelsius) / 300;
  double sum = 0;
  for (const auto& [a, b] : kTerms) sum += a * std::pow(reduced, b);  // eq 8
  return kMicro * sum;
}

}  // namespace aeruca
