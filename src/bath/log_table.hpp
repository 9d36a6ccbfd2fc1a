#pragma once

// A bath log as named columns of text, before any meaning is given to them.

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

/// Column name -> position. Throws FileError for unknown, repeated or missing columns.
class LogColumns {
 public:
  LogColumns(const std::vector<std::string>& names, const std::string& file, long line);

  [[nodiscard]] std::size_t count() const { return count_; }
  /// Text of a column in a row; empty when the log has no such column.
  [[nodiscard]] std::string_view text(const std::vector<std::string>& row,
                                      std::string_view name) const;
  [[nodiscard]] bool has(std::string_view name) const {
    return position_.find(name) != position_.end();
  }
  /// Columns of the header that are accepted and used by nothing.
  [[nodiscard]] std::vector<std::string> unused() const;

 private:
  std::map<std::string, std::size_t, std::less<>> position_;
  std::size_t count_ = 0;
};

/// Days since 1970-01-01T00:00 of YYYY-MM-DD, alone or with a clock time after T or a space. No
/// offset from UTC: a bath lasts days by the clock of the bench.
std::optional<double> parse_day(std::string_view text);

}  // namespace aeruca::detail
