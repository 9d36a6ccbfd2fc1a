#pragma once

// When the readings may fall below a stop level, and when the log cannot carry such a date.

#include <string>

#include "bath/fit_posterior.hpp"

namespace aeruca::detail {

/// "12 (10 to 15) mg": median and range.
std::string range_words(const Range& range);
/// "diffusion", as in "the diffusion model".
std::string model_word(const ReleaseModel& model);

/// Fills the forecast of a fit whose estimates, next bath and goodness are known.
void forecast(const BathLog& log, const BathFitOptions& options, ReleaseModel& model,
              const Posterior& posterior, BathFit& fit);

}  // namespace aeruca::detail
