#pragma once

// What a data file holds, apart from how it is written: tables of fields, each with its line.

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

/// A value of a data file. Its texts point into the `Document` it came from.
struct Node {
  enum class Kind : unsigned char { text, number, flag, list, table, other };
  Kind kind = Kind::other;
  long line = 0;
  std::string_view text;
  double number = 0;                   ///< of a flag: 1 or 0
  std::vector<Node> items;             ///< of a list, or the values of a table
  std::vector<std::string_view> keys;  ///< of a table, one for each item

  /// The value of a table's key; nullptr when it is not there.
  [[nodiscard]] const Node* get(std::string_view key) const;
  /// True for a list, not empty, of nothing but tables.
  [[nodiscard]] bool is_list_of_tables() const;
};

/// A parsed file: one table, and the texts its nodes point to.
struct Document {
  Node top;
  std::vector<std::unique_ptr<const std::string>> texts;
};

/// Throws FileError with the line when the text is no TOML.
[[nodiscard]] Document parse_toml_document(const std::string& file, std::string_view text);

}  // namespace aeruca::detail
