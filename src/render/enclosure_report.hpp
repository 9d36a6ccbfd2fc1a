#pragma once

// A box and when to look at it again, as text and as JSON.

#include <optional>
#include <string>

#include "aeruca/enclosure.hpp"
#include "aeruca/review.hpp"
#include "render/json_value.hpp"

namespace aeruca::detail {

/// `fit`: what the exchange was found from.
std::string box_text(const Review& review, const std::optional<ExchangeFit>& fit);
/// The same below when to look again.
std::string enclosure_text(const Review& review, const std::optional<ExchangeFit>& fit);
std::string enclosure_json(const Review& review, const std::optional<ExchangeFit>& fit,
                           const Dataset& dataset);
/// "exchange", "forecast", "review"
Json box_json(const Review& review, const std::optional<ExchangeFit>& fit);
/// The fit alone.
std::string exchange_text(const ExchangeFit& fit);

}  // namespace aeruca::detail
