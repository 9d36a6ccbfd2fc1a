#pragma once

// What one field of a logger file says.

#include <optional>
#include <string>
#include <string_view>

#include "store/logger_header.hpp"

namespace aeruca::detail {

/// A field as it is quoted in a message: short and printable.
std::string shown(std::string_view text);

/// Whether the field is empty or one of the words for nothing.
bool is_missing(std::string_view text);

/// A number and nothing else, with a decimal comma where one may stand.
std::optional<double> number_of(std::string_view text, bool comma_allowed);

/// A humidity, with % behind it or not.
std::optional<double> humidity_of(std::string_view text, bool comma_allowed);

/// A temperature in degrees C; the unit in the cell goes before that of the column.
std::optional<double> celsius_of(std::string_view text, bool comma_allowed, bool fahrenheit);

/// Relative humidity (percent) over liquid water from what a column holds: a dew point (degrees C)
/// or grams of water in a cubic metre. None where the temperature is unknown or a saturation
/// pressure is not valid (below 0 degrees C or above 100).
std::optional<double> rh_from(Moisture moisture, double value, double temperature_c);

}  // namespace aeruca::detail
