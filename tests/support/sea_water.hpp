#pragma once

// Sea water of the reference composition and what oceanographers report of it: apparent constants on
// the total scale (H(+) with HSO4(-)), in mol per kg of sea water, each ion with its pairs.

#include <cmath>
#include <initializer_list>
#include <map>
#include <string>

#include "aeruca/equilibrium.hpp"

namespace aeruca_test {

/// kg of water in a kg of sea water: 35.165 g of salt at salinity 35 (Millero and others 2008).
inline double water_share(double salinity) {
  return 1 - 1.00472e-3 * salinity;
}

/// mol per kg of water at a salinity (Millero and others 2008, table 4; bromide and fluoride counted
/// as chloride, strontium and boron left out: a tenth of a percent of the salt).
inline std::map<std::string, double> sea_water(double salinity) {
  const std::map<std::string, double> at_35 = {
      {"Na(+)", 0.46897}, {"Mg(2+)", 0.05282},  {"Ca(2+)", 0.01028}, {"K(+)", 0.01021},
      {"Cl(-)", 0.54678}, {"SO4(2-)", 0.02824}, {"CO3(2-)", 0.00195}};
  std::map<std::string, double> totals;
  for (const auto& [ion, amount] : at_35)
    totals[ion] = amount * salinity / 35 / water_share(salinity);
  totals["CO3(2-)"] += 1e-6;  // something to ask of at salinity 0
  return totals;
}

/// mol per kg of water of those of the species that the model has.
inline double sum_of(const aeruca::EquilibriumResult& result,
                     std::initializer_list<const char*> names) {
  double sum = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    for (const char* name : names) {
      if (result.species[i] == name) sum += result.molality[i];
    }
  }
  return sum;
}

inline double total_hydrogen(const aeruca::EquilibriumResult& result) {
  return sum_of(result, {"H(+)", "HSO4(-)"});
}

inline double total_bicarbonate(const aeruca::EquilibriumResult& result) {
  return sum_of(result, {"HCO3(-)", "MgHCO3(+)", "CaHCO3(+)"});
}

inline double apparent_pkw(const aeruca::EquilibriumResult& result, double salinity) {
  const double hydroxide = sum_of(result, {"OH(-)", "MgOH(+)", "CaOH(+)"});
  return -std::log10(total_hydrogen(result) * hydroxide * std::pow(water_share(salinity), 2));
}

inline double apparent_pk1(const aeruca::EquilibriumResult& result, double salinity) {
  return -std::log10(total_hydrogen(result) * total_bicarbonate(result) * water_share(salinity) /
                     sum_of(result, {"CO2(aq)"}));
}

inline double apparent_pk2(const aeruca::EquilibriumResult& result, double salinity) {
  const double carbonate = sum_of(result, {"CO3(2-)", "MgCO3(aq)", "CaCO3(aq)"});
  return -std::log10(total_hydrogen(result) * carbonate * water_share(salinity) /
                     total_bicarbonate(result));
}

/// Hydrogensulfate: H(+) free, SO4(2-) with its pairs.
inline double apparent_pks(const aeruca::EquilibriumResult& result, double salinity) {
  const double sulfate = sum_of(result, {"SO4(2-)", "MgSO4(aq)", "CaSO4(aq)"});
  return -std::log10(sum_of(result, {"H(+)"}) * sulfate * water_share(salinity) /
                     sum_of(result, {"HSO4(-)"}));
}

/// H(+) of what the total scale counts.
inline double free_share(const aeruca::EquilibriumResult& result) {
  return sum_of(result, {"H(+)"}) / total_hydrogen(result);
}

}  // namespace aeruca_test
