#pragma once

// Answers that the data cannot carry, refused by name.

#include <span>
#include <string>
#include <vector>

#include "equilibrium/system.hpp"

namespace aeruca::detail {

/// Throws InputError for a component that is present (totals by system column) and whose acid or
/// base is not known.
void refuse_unknown_acids(const WaterSystem& system, std::span<const double> totals);

/// An estimated pair of ions, and how much doubt it leaves in the log10 activity coefficient of the
/// one of them that is no trace.
struct DoubtfulPair {
  std::size_t cation = 0, anion = 0;  ///< in WaterSystem::species
  double log10_gamma = 0;
};

inline constexpr double kTooDoubtful = 1.0;    // in log10: a factor of ten, no answer
inline constexpr double kWorthTelling = 0.05;  // 12 %: about the uncertainty of a good constant

/// Estimated pairs that leave at least `least` in doubt in a water of these molalities (by species
/// of the water), the worst first. A species is no trace that holds 1 % of some component in
/// solution or is at 0.1 mol/kg itself.
[[nodiscard]] std::vector<DoubtfulPair> doubtful_pairs(const WaterSystem& system,
                                                       const Water& water,
                                                       std::span<const double> molality,
                                                       double least);

/// Why there is no answer.
[[nodiscard]] std::string no_parameters_in_words(const WaterSystem& system,
                                                 const std::vector<DoubtfulPair>& pairs);
/// What the answer rests on.
[[nodiscard]] std::string estimates_in_words(const WaterSystem& system,
                                             const std::vector<DoubtfulPair>& pairs);

}  // namespace aeruca::detail
