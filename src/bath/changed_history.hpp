#pragma once

// Whether a log reads as if something had happened to the object half way: not a way of release that
// ranges are given for, but a reason to doubt those that are.

#include <cstdint>

#include "bath/likelihood.hpp"

namespace aeruca::detail {

struct ChangedHistory {
  double log_evidence = 0;  ///< ln of the mean likelihood, as of the models
  std::size_t bath = 0;     ///< from which it most likely acts, from 0
};

/// An even layer whose rate, or whose extractable chloride, changes from one bath on: by a factor
/// log-normal about 1 (sixfold and threefold), from any bath but the first as likely as from any
/// other. The likelier of the two. Minus infinity with fewer than five readings.
[[nodiscard]] ChangedHistory changed_history(const ObservedTreatment& treatment,
                                             const BathPriors& priors, double first_volume_l,
                                             std::uint64_t seed);

}  // namespace aeruca::detail
