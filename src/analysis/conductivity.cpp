// Conductivity at 25 degrees C from limiting ionic conductivities.

#include <cmath>

#include "aeruca/analysis.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;

constexpr std::string_view kLimiting = "limiting_ionic_conductivity";  // of one equivalent

// Onsager's coefficients of one ion of a 1:1 salt in water of 25 degrees C (Robinson and Stokes
// 1965, chapter 7).
constexpr double kElectrophoretic = 30.1;  // 1e-4 S m2/mol per (mol/L)^0.5 and charge
constexpr double kRelaxation = 0.229;      // per (mol/L)^0.5

constexpr double kMostIonicStrength = 0.1;  // mol/kg
constexpr double kMostUncounted = 5;        // percent of the charge

const Figure* limiting_conductivity(const Dataset& dataset, const std::string& ion) {
  for (const Figure& figure : dataset.figures) {
    if (figure.quantity == kLimiting && figure.subject == ion && figure.chosen) return &figure;
  }
  return nullptr;
}

// Mean charge of the ions of one sign, weighted by charge; 1 where there are none.
double mean_charge(const EquilibriumResult& result, const Dataset& dataset, int sign) {
  double squares = 0;
  double sum = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const int z = sign * dataset.at(result.species[i]).charge;
    if (z <= 0 || !(result.molality[i] > 0)) continue;
    squares += z * z * result.molality[i];
    sum += z * result.molality[i];
  }
  return sum > 0 ? squares / sum : 1;
}

}  // namespace

Conductivity conductivity_of(const EquilibriumResult& result, const Dataset& dataset) {
  Conductivity answer;
  const double litre = density_kg_per_m3(25) / 1000;  // kg of water, dilute
  const double root = std::sqrt(result.ionic_strength * litre);
  const double damped = root / (1 + root);
  const double mean_anion = mean_charge(result, dataset, -1);
  const double mean_cation = mean_charge(result, dataset, +1);
  double sum = 0;  // 1e-4 S m2/mol times mol/L
  double charge = 0;
  double uncounted = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const int charge_number = dataset.at(result.species[i]).charge;
    const int z = std::abs(charge_number);
    if (z == 0 || !(result.molality[i] > 0)) continue;
    const double equivalents = z * result.molality[i] * litre;
    charge += equivalents;
    const Figure* figure = limiting_conductivity(dataset, result.species[i]);
    if (figure == nullptr) {
      uncounted += equivalents;
      continue;
    }
    answer.figures.push_back(figure->id);
    const double other = charge_number > 0 ? mean_anion : mean_cation;
    const double slope = kElectrophoretic * z + kRelaxation * z * other * figure->value;
    sum += equivalents * (figure->value - slope * damped);
  }
  if (!(charge > 0)) return answer;
  answer.uncounted_percent = 100 * uncounted / charge;
  if (result.ionic_strength > kMostIonicStrength) {
    answer.said = detail::say("analysis.conductivity.too_strong");
  } else if (answer.uncounted_percent > kMostUncounted) {
    answer.said = detail::say("analysis.conductivity.uncounted",
                              {{"percent", format_number(answer.uncounted_percent, 2)}});
  } else {
    answer.us_per_cm = 1000 * sum;  // 1e-4 S m2/mol = 1 S cm2/mol; per cm3: 1e-3 S/cm = 1e3 uS/cm
    answer.said = detail::say("analysis.conductivity.found");
  }
  return answer;
}

}  // namespace aeruca
