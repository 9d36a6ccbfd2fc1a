#include "dataset/heat_rule.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"

namespace aeruca::detail {
namespace {

// Calibrated on the reactions of data/ whose heats were found (tests/python/test_heat_rule.py).
constexpr double kGasEntropy = 0.095;  // kJ/(mol K) a mole of gas
constexpr double kDoubt = 20;          // kJ/mol
constexpr double kDoubtOfCharge = 10;  // kJ/mol a charge of each sign
constexpr double kDoubtOfHeatCapacity =
    90;  // J/(mol K) a charge of each sign or half a mole of gas

Figure estimate(const Figure& constant, const char* quantity, const char* unit) {
  Figure figure;
  figure.id = constant.id + "." + quantity + ".rule";
  figure.subject = constant.subject;
  figure.quantity = quantity;
  figure.unit = unit;
  figure.conditions = constant.conditions;
  figure.source = constant.source;
  figure.place = "isocoulombic rule of data/README.md from this constant";
  figure.basis = Basis::estimated;
  figure.chosen = true;
  figure.reason = "nothing measured was found";
  figure.file = constant.file;
  figure.line = constant.line;
  return figure;
}

}  // namespace

Made made_by(const Terms& terms, const Records& records) {
  Made made;
  for (const auto& [name, coefficient] : terms) {
    const Species& species = records.species.find(name)->value.species;
    if (species.kind == PhaseKind::electron) made.charges -= coefficient;
    if (species.kind == PhaseKind::gas) made.gas += coefficient;
    if (species.charge > 0) made.charges += coefficient * species.charge;
  }
  return made;
}

Figure estimated_enthalpy(const Figure& constant, double log10_k, const Made& made,
                          const WaterIonisation& water) {
  Figure figure = estimate(constant, "enthalpy", "kJ/mol");
  constexpr double kPerLog10 = kGasConstant * kReferenceTemperature * kLn10 / 1000;
  figure.value = -kPerLog10 * (log10_k - made.charges * water.log10_k) +
                 made.charges * water.enthalpy_kj_per_mol +
                 made.gas * kReferenceTemperature * kGasEntropy;
  figure.uncertainty = kDoubt + kDoubtOfCharge * std::abs(made.charges);
  return figure;
}

Figure estimated_heat_capacity(const Figure& constant, const Made& made,
                               const WaterIonisation& water) {
  Figure figure = estimate(constant, "heat_capacity", "J/(mol K)");
  figure.value = made.charges * water.heat_capacity_j_per_mol_k + 0.0;  // no minus zero
  figure.uncertainty =
      kDoubtOfHeatCapacity * std::max({1.0, std::abs(made.charges), 2 * std::abs(made.gas)});
  return figure;
}

}  // namespace aeruca::detail
