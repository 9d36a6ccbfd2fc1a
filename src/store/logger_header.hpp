#pragma once

// Which column of a logger file is which.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/logger.hpp"
#include "base/csv.hpp"

namespace aeruca::detail {

/// What the column that tells of humidity holds.
enum class Moisture { relative, dew_point, absolute };

inline constexpr std::size_t kNoColumn = static_cast<std::size_t>(-1);

/// Where the quantities stand.
struct LoggerColumns {
  char separator = ',';
  std::size_t count = 0;          ///< columns of the header
  std::size_t time = kNoColumn;   ///< date and time, or the date alone when `clock` is set
  std::size_t clock = kNoColumn;  ///< time of day in a column of its own
  std::size_t temperature = kNoColumn;
  std::size_t rh = kNoColumn;  ///< whatever `moisture` says that it holds
  Moisture moisture = Moisture::relative;
  bool fahrenheit = false;             ///< temperatures are
  bool moisture_fahrenheit = false;    ///< a dew point is
  bool temperature_unit_said = false;  ///< by the header or the caller
  double rh_scale = 1;                 ///< 100: parts of one
  std::vector<std::string> names;      ///< as the header writes them
};

/// The columns the header line names that the reader stands on with some separator; empty when the
/// line names no time and humidity. Throws FileError when two columns claim one quantity or the
/// temperature unit is not C or F.
std::optional<LoggerColumns> recognise_header(CsvReader& csv, const std::string& file,
                                              const LoggerReadOptions& options);

/// Lines that are looked at for a header.
inline constexpr long kHeaderLines = 60;

/// Whether one of the first lines names a time and a humidity.
bool names_readings(std::string_view text, const LoggerReadOptions& options);

/// Throws FileError for a file in which none does.
[[noreturn]] void refuse_without_header(const std::string& file, const LoggerReadOptions& options);

/// "rh_column (--rh-column)": an option as a case file and Python write it, and as the command line
/// does.
std::string option_named(const std::string& option);

/// Whether the line that the reader stands on holds units, and takes those of the temperatures.
bool take_units(CsvReader& csv, LoggerColumns& columns, const LoggerReadOptions& options);

}  // namespace aeruca::detail
