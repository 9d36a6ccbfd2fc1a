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

// Closest approach over the length of the ionic cloud, 4.6 Angstrom for all ions, as in the
// specific-ion model; (mol/L)^-0.5.
constexpr double kSize = 1.5;

// kg of water that a litre has less by mol/kg of ionic strength: 0.028 in potassium chloride, 0.015
// in sea water, 0.01 in calcium chloride.
constexpr double kDisplaced = 0.02;

constexpr double kMostIonicStrength = 1;    // mol/kg
constexpr double kMostOfManyCharges = 0.1;  // mol/kg
constexpr double kSingleCharges = 1.5;      // product of mean charges; 1.3 in sea water
constexpr double kFewCharges = 2.1;         // 2 in calcium chloride or sodium carbonate
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

// Why there is no figure; empty where there is one.
std::string refused(double ionic_strength, double charges, double uncounted_percent) {
  if (ionic_strength > kMostIonicStrength) return detail::say("analysis.conductivity.too_strong");
  if (charges > kFewCharges && ionic_strength > kMostOfManyCharges)
    return detail::say("analysis.conductivity.many_charges");
  if (uncounted_percent <= kMostUncounted) return "";
  return detail::say("analysis.conductivity.uncounted",
                     {{"percent", format_number(uncounted_percent, 2)}});
}

}  // namespace

Conductivity conductivity_of(const EquilibriumResult& result, const Dataset& dataset) {
  Conductivity answer;
  const double litre = density_kg_per_m3(25) / 1000 - kDisplaced * result.ionic_strength;
  const double root = std::sqrt(result.ionic_strength * litre);
  const double damped = root / (1 + kSize * root);
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
  const double charges = mean_cation * mean_anion;
  answer.said = refused(result.ionic_strength, charges, answer.uncounted_percent);
  if (!answer.said.empty()) return answer;
  answer.us_per_cm = 1000 * sum;  // 1e-4 S m2/mol = 1 S cm2/mol; per cm3: 1e-3 S/cm = 1e3 uS/cm
  answer.said = detail::say("analysis.conductivity.found",
                            {{"percent", charges > kSingleCharges ? "10" : "5"}});
  return answer;
}

}  // namespace aeruca
