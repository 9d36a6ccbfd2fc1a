#pragma once

// Which specific-ion coefficient serves a pair, and where it comes from.

#include <span>
#include <string>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

struct PairCoefficient {
  std::size_t cation = 0, anion = 0;  // positions in the species list
  double value = 0;                   // kg/mol, base 10
  double uncertainty = 0;
  std::string figure;  // empty: estimated
  enum class Origin { tabulated, perchlorate, estimated } origin = Origin::estimated;
};

/// Of two ions beside the complexes of them that are among the species; positions are left at 0.
PairCoefficient sit_coefficient(const Dataset& dataset, std::span<const std::string> species,
                                const Species& cation, const Species& anion);

/// One entry for each cation-anion pair of the list.
std::vector<PairCoefficient> sit_coefficients(const Dataset& dataset,
                                              std::span<const std::string> species);

/// The charge-analogy estimate: value and uncertainty, kg/mol.
std::pair<double, double> estimated_coefficient(int cation_charge, int anion_charge);

}  // namespace aeruca::detail
