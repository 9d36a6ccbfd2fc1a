#pragma once

// Which dissolved species is a complex of which two ions.

#include <span>
#include <string>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// True when the candidate is M X(n) of this cation and anion, atom by atom and charge by charge.
[[nodiscard]] bool is_complex_of(const Species& candidate, const Species& cation,
                                 const Species& anion);

/// True when such a complex is among the species, so that the association is counted there. Acids
/// and water (a cation of hydrogen alone) are no complexes.
[[nodiscard]] bool complex_listed(const Dataset& dataset, std::span<const std::string> species,
                                  const Species& cation, const Species& anion);

}  // namespace aeruca::detail
