#include "activity/sit_coefficients.hpp"

#include <cstdlib>

#include "activity/complexes.hpp"

namespace aeruca::detail {
namespace {

const SitCoefficient* find(const Dataset& dataset, std::string_view cation,
                           std::string_view anion) {
  for (const auto& entry : dataset.sit) {
    if (entry.cation == cation && entry.anion == anion) return &entry;
  }
  return nullptr;
}

PairCoefficient coefficient(const Dataset& dataset, std::span<const std::string> species,
                            const Species& cation, const Species& anion) {
  PairCoefficient pair;
  const SitCoefficient* own = find(dataset, cation.name, anion.name);
  const SitCoefficient* perchlorate = find(dataset, cation.name, "ClO4(-)");
  if (anion.charge == -1 && perchlorate != nullptr && own != perchlorate &&
      complex_listed(dataset, species, cation, anion)) {
    // The tabulated value would count the complex a second time.
    pair = {0,
            0,
            perchlorate->value,
            perchlorate->uncertainty,
            perchlorate->figure,
            PairCoefficient::Origin::perchlorate};
  } else if (own != nullptr) {
    pair = {0, 0, own->value, own->uncertainty, own->figure, PairCoefficient::Origin::tabulated};
  } else {
    const auto [value, uncertainty] = estimated_coefficient(cation.charge, anion.charge);
    pair = {0, 0, value, uncertainty, "", PairCoefficient::Origin::estimated};
  }
  return pair;
}

}  // namespace

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
      pairs.push_back(coefficient(dataset, species, cation, anion));
      pairs.back().cation = i;
      pairs.back().anion = j;
    }
  }
  return pairs;
}

}  // namespace aeruca::detail
