#pragma once

// The fit of any release model to a log.

#include "bath/fit_posterior.hpp"

namespace aeruca::detail {

/// `sequence` holds the log and one bath to come; the log has three measured baths at least and the
/// options were checked.
BathFit fit_release(const BathLog& log, const BathSequence& sequence, ReleaseModel& model,
                    const BathFitOptions& options);

}  // namespace aeruca::detail
