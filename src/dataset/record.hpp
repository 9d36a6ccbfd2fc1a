#pragma once

// One table of a data file, read field by field: what is asked for is known, what is left over is
// an error that names the nearest known field.

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "dataset/document.hpp"

namespace aeruca::detail {

class Record {
 public:
  /// `table` must outlive the record.
  Record(const Node& table, std::string file, std::string kind);

  /// Name shown in messages once it is known ("reaction 'R05'").
  void call(const std::string& key);

  [[nodiscard]] bool has(const char* field) const;
  [[nodiscard]] std::string text(const char* field);
  [[nodiscard]] std::string text_or(const char* field, std::string fallback = {});
  [[nodiscard]] double number(const char* field);
  /// NaN when the field is not there and no fallback is given.
  [[nodiscard]] double number_or(const char* field);
  [[nodiscard]] double number_or(const char* field, double fallback);
  [[nodiscard]] bool flag_or(const char* field, bool fallback);
  [[nodiscard]] std::vector<std::string> texts(const char* field);
  [[nodiscard]] std::vector<double> numbers(const char* field);
  [[nodiscard]] std::vector<std::pair<double, double>> pairs(const char* field);
  [[nodiscard]] std::optional<Record> table(const char* field);

  /// Throws unless lowest <= value <= highest; NaN passes.
  double within(const char* field, double value, double lowest, double highest) const;
  /// Throws when the record has a field that was never asked for.
  void finish() const;
  [[noreturn]] void fail(const char* field, const std::string& problem) const;

  [[nodiscard]] const std::string& file() const { return file_; }
  [[nodiscard]] long line() const;

 private:
  [[nodiscard]] long line_of(const char* field) const;
  [[noreturn]] void fail_missing(const char* field, const std::string& accepted) const;

  const Node* table_;
  std::string file_;
  std::string kind_;
  std::string label_;
  std::vector<std::string_view> known_;  // names of the callers, which are literals
};

using RecordReader = std::function<void(const std::string& kind, Record& record)>;

/// Calls `read(kind, record)` for every [[kind]] of the document, and `read("", record)` for its
/// top level first. Throws FileError, also for a kind that is not in `kinds`.
void for_each_record(const std::string& file, const Document& document, const RecordReader& read,
                     const std::vector<std::string>& kinds);

}  // namespace aeruca::detail
