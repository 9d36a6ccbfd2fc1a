#pragma once

// What a reading that has not been made yet would tell.

#include <vector>

#include "aeruca/bath_decision.hpp"
#include "bath/future.hpp"

namespace aeruca::detail {

/// 95 % point of what is left (mg) at the end of the first bath to come, over the bodies weighed by
/// the chance that this bath reads below the limit; NaN when hardly any body would.
[[nodiscard]] double hidden_below(double limit_mg_per_l, const Future::Course& course);

/// Readings that could be made, the one expected to narrow what is left most first. The expected
/// narrowing is the mean, over outcomes as likely as the bodies make them, of how much shorter the
/// 5-95 % range becomes.
[[nodiscard]] std::vector<MeasurementValue> measurement_values(const BathLog& log,
                                                               const Future& future,
                                                               const ObservedStep& next);

}  // namespace aeruca::detail
