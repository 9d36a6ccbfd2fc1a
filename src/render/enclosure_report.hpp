#pragma once

// An enclosure forecast as text and as JSON.

#include <optional>
#include <string>

#include "aeruca/enclosure.hpp"

namespace aeruca::detail {

/// `fit`: what the exchange was found from; `start_days`: date of the start in days since
/// 1970-01-01, from which a date of the next visit follows.
std::string enclosure_text(const EnclosureForecast& forecast, const std::optional<ExchangeFit>& fit,
                           std::optional<std::int64_t> start_days);
std::string enclosure_json(const EnclosureForecast& forecast, const std::optional<ExchangeFit>& fit,
                           const Dataset& dataset);
/// The fit alone.
std::string exchange_text(const ExchangeFit& fit);

}  // namespace aeruca::detail
