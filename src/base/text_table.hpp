#pragma once

// Plain text in columns: wrapped paragraphs and tables, counted in characters, not bytes.

#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

/// Characters of UTF-8 text.
std::size_t characters(std::string_view text);

/// On which side the text stands in its column.
enum class Align { left, right };

/// The text with blanks to `width` characters; longer text stays whole.
std::string padded(std::string text, std::size_t width, Align align = Align::left);

/// Words broken into lines of at most `width` characters; a word longer than that stays whole.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// A paragraph; the first line begins with `first`, the others with as many blanks.
std::string paragraph(std::string_view text, std::size_t width, std::string_view first = "");

/// A table in at most `width` characters, the widest columns wrapped; every line begins with
/// `indent`. A row of one cell in a table of more is a paragraph below the row before it.
std::string table_text(const std::vector<std::string>& columns,
                       const std::vector<std::vector<std::string>>& rows, std::size_t width,
                       std::string_view indent);

/// Rows of short cells under each other, two blanks before each: the first column to the left, the
/// others to the right, as figures stand.
std::string aligned(const std::vector<std::vector<std::string>>& rows);

/// How a column stands, and how wide it is at least.
struct Column {
  Align align = Align::left;
  std::size_t least = 0;
};
/// The same with each column as said, those beyond the last to the left; a row of one cell is a
/// line of its own that makes no column wider.
std::string aligned(const std::vector<std::vector<std::string>>& rows,
                    const std::vector<Column>& columns);

}  // namespace aeruca::detail
