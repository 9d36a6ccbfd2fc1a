#pragma once

// Readings that are possible but not likely: what is asked before a record is believed.

#include <cstddef>
#include <string>

#include "store/logger_header.hpp"
#include "store/logger_series.hpp"

namespace aeruca::detail {

/// Throws FileError with one question, and the option that settles it, when the humidities look
/// like parts of one, the temperatures like degrees F or humidities, or the clock is ahead of
/// today. `too_hot`: lines dropped because their temperature is above what can be.
void ask_if_implausible(const RawSeries& series, std::size_t too_hot, const LoggerColumns& columns,
                        const FieldNames& names, const LoggerReadOptions& options,
                        const std::string& file);

}  // namespace aeruca::detail
