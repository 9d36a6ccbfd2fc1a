#pragma once

// A logger file without a header: which column is which, by what stands in the cells.

#include <optional>
#include <string>
#include <vector>

#include "aeruca/logger.hpp"
#include "store/logger_header.hpp"

namespace aeruca::detail {

struct BareColumns {
  LoggerColumns columns;  ///< named by their numbers, from 1
  std::string proof;      ///< which column was taken for what, and why
};

/// The columns of lines that are readings themselves; none where the lines are not. Throws FileError
/// when nothing tells the humidity.
std::optional<BareColumns> columns_without_header(const std::vector<std::string>& lines,
                                                  const std::string& file,
                                                  const LoggerReadOptions& options);

}  // namespace aeruca::detail
