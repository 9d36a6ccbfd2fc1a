// Constants away from 25 degrees C, and how far they are known there.

#include <algorithm>
#include <cmath>
#include <map>

#include "aeruca/constants.hpp"
#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"

namespace aeruca {
namespace {

// J/mol per unit of log10 K, at T0.
constexpr double kRLn10 = kGasConstant * kLn10;

double kelvin_of(double temperature_c) {
  if (temperature_c < 0 || temperature_c > 50)
    throw InputError("temperature_c", temperature_c, "0 to 50 degrees C");
  return temperature_c + kZeroCelsius;
}

void check_known(const Species& species, double temperature_c) {
  if (!Dataset::log10_k_known_at(species, temperature_c))
    throw InputError(
        "temperature_c", temperature_c,
        "25 degrees C for " + species.name + ", whose enthalpy of reaction is not known");
}

}  // namespace

bool Dataset::log10_k_known_at(const Species& species, double temperature_c) {
  return temperature_c + kZeroCelsius == kReferenceTemperature ||
         !std::isnan(species.enthalpy_kj_per_mol);
}

double Dataset::log10_k_per_kj(double temperature_c) {
  const double kelvin = temperature_c + kZeroCelsius;
  return 1000 * (1 / kReferenceTemperature - 1 / kelvin) / kRLn10;
}

double Dataset::log10_k_per_j_per_k(double temperature_c) {
  const double ratio = (temperature_c + kZeroCelsius) / kReferenceTemperature;
  return (std::log(ratio) + 1 / ratio - 1) / kRLn10;
}

// NOLINTNEXTLINE(readability-convert-member-functions-to-static): of the species of one data set
double Dataset::log10_k(const Species& one, double temperature_c) const {
  if (std::isnan(temperature_c)) return temperature_c;
  if (kelvin_of(temperature_c) == kReferenceTemperature) return one.log10_k;
  check_known(one, temperature_c);
  const double capacity =
      std::isnan(one.heat_capacity_j_per_mol_k) ? 0 : one.heat_capacity_j_per_mol_k;
  return one.log10_k + one.enthalpy_kj_per_mol * log10_k_per_kj(temperature_c) +
         capacity * log10_k_per_j_per_k(temperature_c);
}

std::vector<std::pair<std::string, double>> Dataset::terms_at(const Species& one,
                                                              double temperature_c) {
  if (kelvin_of(temperature_c) == kReferenceTemperature) return one.constant_terms;
  std::vector<std::pair<std::string, double>> terms = one.constant_terms;
  const auto add = [&](const auto& more, double slope) {
    for (const auto& [id, coefficient] : more) terms.emplace_back(id, coefficient * slope);
  };
  add(one.enthalpy_terms, log10_k_per_kj(temperature_c));
  add(one.heat_capacity_terms, log10_k_per_j_per_k(temperature_c));
  return terms;
}

double Dataset::log10_k_uncertainty(const Species& one, double temperature_c) const {
  if (std::isnan(temperature_c)) return temperature_c;
  const auto terms = terms_at(one, temperature_c);
  check_known(one, temperature_c);
  double squares = 0;
  if (one.constant_terms.empty()) squares = one.log10_k_uncertainty * one.log10_k_uncertainty;
  for (const auto& [id, coefficient] : terms) {
    const double spread = figure(id).uncertainty;
    if (!std::isnan(spread)) squares += coefficient * coefficient * spread * spread;
  }
  return std::sqrt(squares);
}

bool Dataset::rests_on_estimate(const Species& one, double temperature_c) const {
  if (temperature_c + kZeroCelsius == kReferenceTemperature) return false;
  return std::any_of(one.enthalpy_terms.begin(), one.enthalpy_terms.end(), [&](const auto& term) {
    return figure(term.first).basis == Basis::estimated;
  });
}

}  // namespace aeruca
