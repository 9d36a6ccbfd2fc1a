#pragma once

// Which dissolved species is a complex of which two ions, and which of them parameters contain.

#include <algorithm>
#include <span>
#include <string>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// True when the candidate is M X(n) of this cation and anion, atom by atom and charge by charge.
[[nodiscard]] bool is_complex_of(const Species& candidate, const Species& cation,
                                 const Species& anion);

/// The complexes of these two ions among the species, by name: their association is counted there.
[[nodiscard]] std::vector<std::string> complexes_listed(const Dataset& dataset,
                                                        std::span<const std::string> species,
                                                        const Species& cation,
                                                        const Species& anion);

/// Of one pair of ions (Pitzer sets, or specific-ion coefficients) the parameters used beside these
/// complexes: the first that declares them all, the chosen one before the others; else the chosen
/// one, or the first. Null when there are none.
template <class Parameters>
[[nodiscard]] const Parameters* parameters_beside(const std::vector<Parameters>& all,
                                                  std::string_view cation, std::string_view anion,
                                                  std::span<const std::string> complexes) {
  const Parameters* chosen = nullptr;
  const Parameters* declares = nullptr;
  for (const Parameters& one : all) {
    if (one.cation != cation || one.anion != anion) continue;
    if (chosen == nullptr || (one.chosen && !chosen->chosen)) chosen = &one;
    const bool every = std::all_of(complexes.begin(), complexes.end(), [&](const auto& name) {
      return std::find(one.complexes.begin(), one.complexes.end(), name) != one.complexes.end();
    });
    if (every && !complexes.empty() && (declares == nullptr || one.chosen)) declares = &one;
  }
  return declares != nullptr ? declares : chosen;
}

}  // namespace aeruca::detail
