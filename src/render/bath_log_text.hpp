#pragma once

// How `aeruca bath log` reads: each bath, the sums, the fit and the forecast.

#include <string>

#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_log.hpp"
#include "render/json_value.hpp"

namespace aeruca::detail {

std::string bath_log_text(const BathLog& log, const BathSummary& summary, const BathFit& fit,
                          const BathFitOptions& options);
Json bath_log_json(const BathLog& log, const BathSummary& summary, const BathFit& fit);

}  // namespace aeruca::detail
