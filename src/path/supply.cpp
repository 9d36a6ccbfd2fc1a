// What brings the oxidant: oxygen through a stagnant layer, charge through a circuit.

#include <cmath>

#include "aeruca/constants.hpp"
#include "aeruca/path.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"
#include "path/supply.hpp"

namespace aeruca {
namespace {

constexpr double kSecondsPerDay = 86400;
constexpr double kElectronsPerOxygen = 4;

void want(const char* parameter, double value, double above, double to, const char* unit) {
  if (value > above && value <= to) return;
  throw InputError(
      parameter, value,
      "above " + detail::format_number(above) + " to " + detail::format_number(to) + " " + unit);
}

double through_layer(const Dataset& dataset, const PathSupply& supply) {
  want("depth_mm", supply.depth_mm, 0, 1e5, "mm of stagnant water");
  want("oxygen_bar", supply.oxygen_bar, 0, 1, "bar");
  if (!(supply.temperature_c >= 0 && supply.temperature_c <= 50))
    throw InputError("temperature_c", supply.temperature_c, "0 to 50 degrees C");
  const double flux = detail::oxygen_diffusivity(dataset, supply.temperature_c) *
                      detail::oxygen_in_water(dataset, supply.oxygen_bar, supply.temperature_c) /
                      (supply.depth_mm / 1000);
  return flux * kSecondsPerDay;
}

double through_circuit(const PathSupply& supply) {
  want("current_a_per_m2", supply.current_a_per_m2, 0, 1e6, "A/m2");
  return supply.current_a_per_m2 / (kElectronsPerOxygen * kFaraday) * kSecondsPerDay;
}

// log10 k = constant + per pH + per 1/T + per root of I + per I, figure by figure.
double rate_equation(const Dataset& dataset, const std::string& key, double ph, double kelvin,
                     double ionic_strength) {
  const auto term = [&](const char* name) { return dataset.figure(key + name).value; };
  return std::pow(10, term(".constant") + term(".ph") * ph + term(".inverse-temperature") / kelvin +
                          term(".root-ionic-strength") * std::sqrt(ionic_strength) +
                          term(".ionic-strength") * ionic_strength);
}

}  // namespace

namespace detail {

// Goes as T over the viscosity of water (Walden; Stokes and Einstein).
double oxygen_diffusivity(const Dataset& dataset, double temperature_c) {
  const double at_25c = dataset.figure("diffusion-oxygen").value;
  const double kelvin = temperature_c + kZeroCelsius;
  return at_25c * kelvin / kReferenceTemperature * viscosity_pa_s(25) /
         viscosity_pa_s(temperature_c);
}

// mol per m3 of water under the air, by the two constants of oxygen in the data set.
double oxygen_in_water(const Dataset& dataset, double oxygen_bar, double temperature_c) {
  const double log10_henry = dataset.log10_k(dataset.at("O2(aq)"), temperature_c) -
                             dataset.log10_k(dataset.at("O2(g)"), temperature_c);
  return std::pow(10, log10_henry) * oxygen_bar * density_kg_per_m3(temperature_c);
}

}  // namespace detail

double oxygen_supply(const Dataset& dataset, const PathSupply& supply) {
  switch (supply.kind) {
    case SupplyKind::oxygen_layer:
      return through_layer(dataset, supply);
    case SupplyKind::current:
      return through_circuit(supply);
    case SupplyKind::none:
      break;
  }
  throw InputError("supply", "none",
                   "an oxygen layer or a current, for without a supply a path has no time");
}

std::vector<double> path_days(const Dataset& dataset, const PathResult& path,
                              const PathSupply& supply, double water_kg_per_m2) {
  if (path.kind != PathKind::aerate || path.log10_gas_bar.empty())
    throw InputError("path", std::string(to_string(path.kind)),
                     "one that takes up oxygen (aerate), which is what a supply brings");
  want("water_kg_per_m2", water_kg_per_m2, 0, 1e6, "kg/m2");
  const double per_day = oxygen_supply(dataset, supply);
  std::vector<double> days;
  for (const double taken : path.progress) days.push_back(taken * water_kg_per_m2 / per_day);
  return days;
}

double thickness_nm(const Dataset& dataset, std::string_view solid, double mol_per_m2) {
  constexpr double kNmPerCm3OverM2 = 1000;  // 1 cm3 over 1 m2 is 1 um
  return mol_per_m2 * dataset.mineral(solid).molar_volume_cm3_per_mol() * kNmPerCm3OverM2;
}

double copper_one_oxidation(const Dataset& dataset, CopperOneMedium medium, double ph,
                            double temperature_c, double ionic_strength) {
  const bool sea = medium == CopperOneMedium::sea_water;
  const auto within = [](const char* parameter, double value, double low, double high) {
    if (!(value >= low && value <= high))
      throw InputError(parameter, value,
                       detail::format_number(low) + " to " + detail::format_number(high) +
                           ", the range of the published rate");
  };
  within("ph", ph, 5.3, 8.6);
  within("temperature_c", temperature_c, 5, 45);
  within("ionic_strength", ionic_strength, sea ? 0.1 : 0.5, sea ? 0.91 : 6);
  return rate_equation(dataset, sea ? "cu1-oxidation-sea-water" : "cu1-oxidation-salt-water", ph,
                       temperature_c + kZeroCelsius, ionic_strength);
}

}  // namespace aeruca
