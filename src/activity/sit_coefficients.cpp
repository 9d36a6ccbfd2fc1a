#include "activity/sit_coefficients.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace aeruca::detail {
namespace {

const SitCoefficient* find(const Dataset& dataset, std::string_view cation,
                           std::string_view anion) {
  for (const auto& entry : dataset.sit) {
    if (entry.cation == cation && entry.anion == anion) return &entry;
  }
  return nullptr;
}

double atoms(const Species& species, std::string_view element) {
  for (const auto& [symbol, count] : species.elements) {
    if (symbol == element) return count;
  }
  return 0;
}

// True when the candidate is M X(n) of this cation and anion, atom by atom and charge by charge.
bool is_complex_of(const Species& candidate, const Species& cation, const Species& anion) {
  const int excess = cation.charge - candidate.charge;
  if (excess <= 0 || excess % -anion.charge != 0) return false;
  const double n = excess / -anion.charge;
  const auto matches = [&](const Species& holder) {
    return std::all_of(holder.elements.begin(), holder.elements.end(), [&](const auto& element) {
      const std::string& symbol = element.first;
      return atoms(candidate, symbol) == atoms(cation, symbol) + n * atoms(anion, symbol);
    });
  };
  return matches(candidate) && matches(cation) && matches(anion);
}

// True when such a complex is among the species, so that the association is counted there. Acids
// and water (a cation of hydrogen alone) are no complexes.
bool complex_listed(const Dataset& dataset, std::span<const std::string> species,
                    const Species& cation, const Species& anion) {
  if (cation.elements.size() == 1 && cation.elements.front().first == "H") return false;
  return std::any_of(species.begin(), species.end(), [&](const std::string& name) {
    return is_complex_of(dataset.at(name), cation, anion);
  });
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
