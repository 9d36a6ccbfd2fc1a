#include "activity/sit_coefficients.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "activity/complexes.hpp"

namespace aeruca::detail {
namespace {

// What the coefficient of another anion leaves open, kg/mol and charge: our estimate, as the
// tabulated ones of chloride, nitrate and perchlorate with one cation differ.
constexpr double kOtherAnion = 0.05;

PairCoefficient taken(const SitCoefficient& one, PairCoefficient::Origin origin) {
  return {0, 0, one.value, one.uncertainty, one.figure, origin};
}

bool declares_all(const SitCoefficient& one, const std::vector<std::string>& complexes) {
  return std::all_of(complexes.begin(), complexes.end(), [&](const std::string& name) {
    return std::find(one.complexes.begin(), one.complexes.end(), name) != one.complexes.end();
  });
}

}  // namespace

// A value that contains a complex would count it a second time beside the complex: then the
// perchlorate's serves, which forms none.
PairCoefficient sit_coefficient(const Dataset& dataset, std::span<const std::string> species,
                                const Species& cation, const Species& anion) {
  using Origin = PairCoefficient::Origin;
  const auto complexes = complexes_listed(dataset, species, cation, anion);
  const auto* own = parameters_beside(dataset.sit, cation.name, anion.name, complexes);
  if (own != nullptr && declares_all(*own, complexes)) return taken(*own, Origin::tabulated);
  if (anion.charge == -1 && !complexes.empty()) {
    const auto* perchlorate = parameters_beside(dataset.sit, cation.name, "ClO4(-)", {});
    if (perchlorate != nullptr) {
      PairCoefficient pair = taken(*perchlorate, Origin::perchlorate);
      pair.uncertainty = std::hypot(pair.uncertainty, kOtherAnion * cation.charge);
      return pair;
    }
  }
  if (own != nullptr) return taken(*own, Origin::tabulated);
  const auto [value, uncertainty] = estimated_coefficient(cation.charge, anion.charge);
  return {0, 0, value, uncertainty, "", Origin::estimated};
}

// Through the means of the tabulated coefficients by charge type (NEA auxiliary data, reference
// data of this project): 0.04 for 1:1, 0.22 for 2:1, -0.10 for 1:2; straight in each charge. The
// tabulated 1:1 values scatter by 0.06, and the scatter is let grow with the charges.
std::pair<double, double> estimated_coefficient(int cation_charge, int anion_charge) {
  const int positive = std::abs(cation_charge);
  const int negative = std::abs(anion_charge);
  return {0.04 + 0.18 * (positive - 1) - 0.14 * (negative - 1), 0.06 * positive * negative};
}

std::vector<PairCoefficient> sit_coefficients(const Dataset& dataset,
                                              std::span<const std::string> species) {
  std::vector<PairCoefficient> pairs;
  for (std::size_t i = 0; i < species.size(); ++i) {
    const Species& cation = dataset.at(species[i]);
    if (cation.charge <= 0) continue;
    for (std::size_t j = 0; j < species.size(); ++j) {
      const Species& anion = dataset.at(species[j]);
      if (anion.charge >= 0) continue;
      pairs.push_back(sit_coefficient(dataset, species, cation, anion));
      pairs.back().cation = i;
      pairs.back().anion = j;
    }
  }
  return pairs;
}

}  // namespace aeruca::detail
