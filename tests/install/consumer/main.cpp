// What an outside program writes against an installed aeruca.
#include <aeruca/dataset.hpp>
#include <aeruca/equilibrium.hpp>
#include <aeruca/version.hpp>
#include <iostream>

int main() {
  const auto dataset = aeruca::default_dataset();
  aeruca::EquilibriumOptions options;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  options.precipitation = aeruca::Precipitation::allowed;
  const aeruca::Equilibrium system(dataset, options);
  aeruca::EquilibriumInput water;
  water.totals_mol_per_kg = {{"Cu(2+)", 1e-3}, {"halite", 0.1}};
  water.ph = 7;
  water.eh_v = 0.3;
  const auto result = system.solve(water);
  result.raise_if_failed();
  std::cout << aeruca::version() << ' ' << result.ionic_strength << '\n';
  return result.ionic_strength > 0.05 ? 0 : 1;
}
