#pragma once

// A small data set built by hand, so that a part can be tested without the data files.
// Constants: the [default] rows of the project's reference figures for copper, rounded.

#include <limits>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::test {

class SmallDataset {
 public:
  explicit SmallDataset(std::vector<std::string> components) {
    data_.version = "test";
    data_.content_hash = "0000000000000000";
    data_.components = components;
    for (const std::string& name : components) add(name, kind_of(name), {{name, 1}}, 0, 0);
  }

  Species& add(const std::string& name, PhaseKind kind,
               const std::map<std::string, double>& made_of, double log10_k, double uncertainty) {
    Species species;
    species.name = name;
    species.formula = name;
    species.kind = kind;
    species.components.assign(data_.components.size(), 0);
    for (const auto& [component, count] : made_of)
      species.components[data_.component_index(component)] = count;
    species.log10_k = log10_k;
    species.log10_k_uncertainty = uncertainty;
    const double nan = std::numeric_limits<double>::quiet_NaN();
    species.enthalpy_kj_per_mol = kind_of(name) == kind && made_of.contains(name) ? 0 : nan;
    species.heat_capacity_j_per_mol_k = species.density_g_per_cm3 = nan;
    data_.species.push_back(species);
    return data_.species.back();
  }
  Species& dissolved(const std::string& name, const std::map<std::string, double>& made_of,
                     double log10_k, double uncertainty = 0.1) {
    return add(name, PhaseKind::aqueous, made_of, log10_k, uncertainty);
  }
  Species& solid(const std::string& name, const std::map<std::string, double>& made_of,
                 double log10_k, double uncertainty = 0.1) {
    return add(name, PhaseKind::solid, made_of, log10_k, uncertainty);
  }
  Species& gas(const std::string& name, const std::map<std::string, double>& made_of,
               double log10_k, double uncertainty = 0) {
    return add(name, PhaseKind::gas, made_of, log10_k, uncertainty);
  }
  [[nodiscard]] std::shared_ptr<const Dataset> done() {
    data_.index_names();
    return std::make_shared<const Dataset>(data_);
  }

 private:
  static PhaseKind kind_of(const std::string& name) {
    if (name == "H2O") return PhaseKind::solvent;
    return name == "e(-)" ? PhaseKind::electron : PhaseKind::aqueous;
  }
  Dataset data_;
};

inline std::shared_ptr<const Dataset> small_copper_dataset() {
  SmallDataset set({"H2O", "H(+)", "e(-)", "Cu(2+)", "Cl(-)", "CO3(2-)", "SO4(2-)"});
  set.dissolved("Cu(+)", {{"Cu(2+)", 1}, {"e(-)", 1}}, 2.83);
  set.dissolved("CuOH(+)", {{"Cu(2+)", 1}, {"H2O", 1}, {"H(+)", -1}}, -7.95);
  set.dissolved("Cu(OH)2(aq)", {{"Cu(2+)", 1}, {"H2O", 2}, {"H(+)", -2}}, -16.2);
  set.dissolved("Cu(OH)3(-)", {{"Cu(2+)", 1}, {"H2O", 3}, {"H(+)", -3}}, -26.6);
  set.dissolved("Cu(OH)4(2-)", {{"Cu(2+)", 1}, {"H2O", 4}, {"H(+)", -4}}, -39.74);
  set.dissolved("Cu2(OH)2(2+)", {{"Cu(2+)", 2}, {"H2O", 2}, {"H(+)", -2}}, -10.43);
  set.dissolved("CuCl(+)", {{"Cu(2+)", 1}, {"Cl(-)", 1}}, 0.83);
  set.dissolved("CuCl2(-)", {{"Cu(2+)", 1}, {"e(-)", 1}, {"Cl(-)", 2}}, 8.35);
  set.dissolved("CuCl3(2-)", {{"Cu(2+)", 1}, {"e(-)", 1}, {"Cl(-)", 3}}, 7.68);
  set.dissolved("HCO3(-)", {{"CO3(2-)", 1}, {"H(+)", 1}}, 10.329, 0.02);
  set.dissolved("CO2(aq)", {{"CO3(2-)", 1}, {"H(+)", 2}, {"H2O", -1}}, 16.681, 0.03);
  set.dissolved("HSO4(-)", {{"SO4(2-)", 1}, {"H(+)", 1}}, 1.98, 0.03);
  set.dissolved("CuCO3(aq)", {{"Cu(2+)", 1}, {"CO3(2-)", 1}}, 6.75);
  set.dissolved("Cu(CO3)2(2-)", {{"Cu(2+)", 1}, {"CO3(2-)", 2}}, 10.3);
  set.solid("copper", {{"Cu(2+)", 1}, {"e(-)", 2}}, 11.39, 0.27);
  set.solid("cuprite", {{"Cu(2+)", 2}, {"e(-)", 2}, {"H2O", 1}, {"H(+)", -2}}, 7.12);
  set.solid("tenorite", {{"Cu(2+)", 1}, {"H2O", 1}, {"H(+)", -2}}, -7.64).slow_to_form =
      "forms slowly near room temperature";
  set.solid("spertiniite", {{"Cu(2+)", 1}, {"H2O", 2}, {"H(+)", -2}}, -8.67);
  set.solid("nantokite", {{"Cu(2+)", 1}, {"e(-)", 1}, {"Cl(-)", 1}}, 9.56);
  set.solid("clinoatacamite", {{"Cu(2+)", 2}, {"Cl(-)", 1}, {"H2O", 3}, {"H(+)", -3}}, -7.34, 0.2);
  set.solid("atacamite", {{"Cu(2+)", 2}, {"Cl(-)", 1}, {"H2O", 3}, {"H(+)", -3}}, -7.36, 0.2);
  set.solid("malachite", {{"Cu(2+)", 2}, {"CO3(2-)", 1}, {"H2O", 2}, {"H(+)", -2}}, 5.469, 0.2);
  set.solid("brochantite", {{"Cu(2+)", 4}, {"SO4(2-)", 1}, {"H2O", 6}, {"H(+)", -6}}, -15.35, 0.3);
  set.gas("H2(g)", {{"H(+)", 2}, {"e(-)", 2}}, 0);
  set.gas("O2(g)", {{"H2O", 2}, {"H(+)", -4}, {"e(-)", -4}}, -83.09, 0.02);
  set.gas("CO2(g)", {{"CO3(2-)", 1}, {"H(+)", 2}, {"H2O", -1}}, 18.149, 0.03);
  return set.done();
}

}  // namespace aeruca::test
