#pragma once

// A workbook in place of a text file: which of its sheets holds the readings.

#include <string>

#include "aeruca/logger.hpp"

namespace aeruca::detail {

/// Whether a file begins as a workbook (.xlsx) does. Throws FileError for a workbook of the kind
/// before, for what is no regular file, and for one that cannot be opened.
bool is_workbook(const std::string& path);

/// Reads the sheet asked for, or the only one with readings. Throws FileError.
LoggerRecord read_workbook(const std::string& path, const LoggerReadOptions& options);

}  // namespace aeruca::detail
