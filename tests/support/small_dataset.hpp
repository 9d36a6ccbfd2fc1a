#pragma once

// A small data set built by hand, so that activity is tested without the files of data/.

#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca_test {

inline aeruca::Species dissolved(std::string name, int charge,
                                 std::vector<std::pair<std::string, double>> elements) {
  aeruca::Species species;
  species.name = std::move(name);
  species.charge = charge;
  species.elements = std::move(elements);
  return species;
}

inline aeruca::PitzerBinary pitzer_set(std::string id, std::string cation, std::string anion,
                                       double beta0, double beta1, double beta2, double c_phi) {
  aeruca::PitzerBinary set;
  set.id = std::move(id);
  set.cation = std::move(cation);
  set.anion = std::move(anion);
  set.beta0 = beta0;
  set.beta1 = beta1;
  set.beta2 = beta2;
  set.c_phi = c_phi;
  if (beta2 != 0) set.alpha1 = 1.4;
  set.molality_max = 4;
  set.chosen = true;
  return set;
}

/// Ions of sea-water kind with copper, sit coefficients, and Pitzer terms of every type (values
/// near the published ones; only their structure matters here).
inline aeruca::Dataset small_dataset() {
  aeruca::Dataset d;
  d.species = {dissolved("H(+)", 1, {{"H", 1}}),
               dissolved("Na(+)", 1, {{"Na", 1}}),
               dissolved("Mg(2+)", 2, {{"Mg", 1}}),
               dissolved("Cu(2+)", 2, {{"Cu", 1}}),
               dissolved("Cl(-)", -1, {{"Cl", 1}}),
               dissolved("SO4(2-)", -2, {{"S", 1}, {"O", 4}}),
               dissolved("CuCl(+)", 1, {{"Cu", 1}, {"Cl", 1}}),
               dissolved("CO2(aq)", 0, {{"C", 1}, {"O", 2}}),
               dissolved("Cu2OH(3+)", 3, {{"Cu", 2}, {"O", 1}, {"H", 1}})};
  aeruca::Species solid;
  solid.name = "halite";
  solid.kind = aeruca::PhaseKind::solid;
  d.species.push_back(solid);
  d.sit = {{"H(+)", "Cl(-)", 0.12, 0.01, "sit-H-Cl"},
           {"Na(+)", "Cl(-)", 0.03, 0.01, "sit-Na-Cl"},
           {"Mg(2+)", "Cl(-)", 0.19, 0.02, "sit-Mg-Cl"},
           {"Na(+)", "SO4(2-)", -0.12, 0.06, "sit-Na-SO4"},
           {"Cu(2+)", "Cl(-)", 0.08, 0.01, "sit-Cu-Cl"},
           {"Cu(2+)", "ClO4(-)", 0.32, 0.02, "sit-Cu-ClO4"}};
  d.pitzer = {pitzer_set("H-Cl", "H(+)", "Cl(-)", 0.1775, 0.2945, 0, 0.0008),
              pitzer_set("Na-Cl", "Na(+)", "Cl(-)", 0.0765, 0.2644, 0, 0.00127),
              pitzer_set("Na-SO4", "Na(+)", "SO4(2-)", 0.01958, 1.113, 0, 0.00497),
              pitzer_set("Mg-Cl", "Mg(2+)", "Cl(-)", 0.35235, 1.6815, 0, 0.00519),
              pitzer_set("Mg-SO4", "Mg(2+)", "SO4(2-)", 0.221, 3.343, -37.23, 0.025),
              pitzer_set("Cu-Cl", "Cu(2+)", "Cl(-)", 0.308, 1.376, 0, -0.0404)};
  const auto mixing = [&](std::string type, std::vector<std::string> species, double value) {
    aeruca::PitzerMixing entry;
    entry.type = std::move(type);
    entry.species = std::move(species);
    entry.value = value;
    d.pitzer_mixing.push_back(entry);
  };
  mixing("theta", {"Na(+)", "Mg(2+)"}, 0.07);
  mixing("theta", {"Na(+)", "H(+)"}, 0.036);
  mixing("theta", {"Cl(-)", "SO4(2-)"}, 0.02);
  mixing("psi", {"Na(+)", "Mg(2+)", "Cl(-)"}, -0.012);
  mixing("psi", {"Cl(-)", "SO4(2-)", "Na(+)"}, 0.0014);
  mixing("lambda", {"CO2(aq)", "Na(+)"}, 0.1);
  mixing("lambda", {"CO2(aq)", "CO2(aq)"}, 0.0147);
  mixing("zeta", {"CO2(aq)", "Na(+)", "Cl(-)"}, -0.015);
  d.index_names();
  return d;
}

}  // namespace aeruca_test
