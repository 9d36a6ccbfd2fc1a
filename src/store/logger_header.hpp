#pragma once

// Which column of a logger file is which.

#include <optional>
#include <string>
#include <vector>

#include "aeruca/logger.hpp"
#include "base/csv.hpp"

namespace aeruca::detail {

inline constexpr std::size_t kNoColumn = static_cast<std::size_t>(-1);

/// Where the quantities stand.
struct LoggerColumns {
  char separator = ',';
  std::size_t count = 0;          ///< columns of the header
  std::size_t time = kNoColumn;   ///< date and time, or the date alone when `clock` is set
  std::size_t clock = kNoColumn;  ///< time of day in a column of its own
  std::size_t temperature = kNoColumn;
  std::size_t rh = kNoColumn;
  bool fahrenheit = false;
  std::vector<std::string> names;  ///< as the header writes them
};

/// The columns the header line names that the reader stands on with some separator; empty when the
/// line names no time and humidity. Throws FileError when two columns claim one quantity or the
/// temperature unit is not C or F.
std::optional<LoggerColumns> recognise_header(CsvReader& csv, const std::string& file,
                                              const LoggerReadOptions& options);

}  // namespace aeruca::detail
