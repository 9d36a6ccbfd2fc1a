#include "base/text_table.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/localised.hpp"

namespace aeruca::detail {
namespace {

using Cells = std::vector<std::vector<std::string>>;  // wrapped lines of each cell of a row

constexpr std::size_t kGap = 2;  // between columns

bool is_paragraph(const std::vector<std::string>& row, std::size_t columns) {
  return row.size() == 1 && columns > 1;
}

std::vector<std::size_t> longest_words(const std::vector<std::string>& columns,
                                       const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> longest;
  const auto grow = [&longest](std::size_t column, const std::string& cell) {
    for (const std::string& word : wrapped(cell, 1))
      longest[column] = std::max(longest[column], characters(word));
  };
  for (const std::string& column : columns) {
    longest.push_back(0);
    grow(longest.size() - 1, column);
  }
  for (const auto& row : rows) {
    if (is_paragraph(row, columns.size())) continue;
    for (std::size_t i = 0; i < longest.size() && i < row.size(); ++i) grow(i, row[i]);
  }
  return longest;
}

// Natural widths, the widest made narrower until the row fits.
std::vector<std::size_t> column_widths(const std::vector<std::string>& columns,
                                       const std::vector<std::vector<std::string>>& rows,
                                       std::size_t room) {
  std::vector<std::size_t> widths;
  widths.reserve(columns.size());
  for (const std::string& column : columns) widths.push_back(characters(column));
  for (const auto& row : rows) {
    if (is_paragraph(row, columns.size())) continue;
    for (std::size_t i = 0; i < widths.size() && i < row.size(); ++i) {
      widths[i] = std::max(widths[i], characters(row[i]));
    }
  }
  const std::vector<std::size_t> longest = longest_words(columns, rows);
  const auto total = [&] {
    return std::accumulate(widths.begin(), widths.end(), kGap * (widths.size() - 1));
  };
  while (!widths.empty() && total() > room) {
    // The widest column that can still be broken between words.
    std::size_t widest = widths.size();
    for (std::size_t i = 0; i < widths.size(); ++i) {
      if (widths[i] > longest[i] && (widest == widths.size() || widths[i] > widths[widest]))
        widest = i;
    }
    if (widest == widths.size()) break;
    --widths[widest];
  }
  return widths;
}

std::string row_text(const std::vector<std::string>& row, const std::vector<std::size_t>& widths,
                     std::string_view indent) {
  Cells cells;
  std::size_t height = 1;
  for (std::size_t i = 0; i < widths.size(); ++i) {
    cells.push_back(wrapped(i < row.size() ? row[i] : "", widths[i]));
    height = std::max(height, cells.back().size());
  }
  std::string text;
  for (std::size_t line = 0; line < height; ++line) {
    std::string printed(indent);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string cell = line < cells[i].size() ? cells[i][line] : "";
      printed += i + 1 < cells.size() ? padded(cell, widths[i] + kGap) : cell;
    }
    printed.erase(printed.find_last_not_of(' ') + 1);
    text += printed + '\n';
  }
  return text;
}

// Figures as the language in use writes them.
std::vector<std::vector<std::string>> as_read(std::vector<std::vector<std::string>> rows) {
  for (auto& row : rows) {
    for (std::string& cell : row) cell = localised(std::move(cell));
  }
  return rows;
}

}  // namespace

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;  // not a continuation byte
  }));
}

std::string padded(std::string text, std::size_t width, Align align) {
  const std::size_t length = characters(text);
  if (length < width) text.insert(align == Align::left ? text.size() : 0, width - length, ' ');
  return text;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines(1);
  std::size_t start = 0;
  while (start < text.size()) {
    const std::size_t word_start = text.find_first_not_of(" \t\r\n", start);
    if (word_start == std::string_view::npos) break;
    const std::size_t word_end = std::min(text.find_first_of(" \t\r\n", word_start), text.size());
    const std::string_view word = text.substr(word_start, word_end - word_start);
    std::string& line = lines.back();
    if (line.empty()) {
      line = word;
    } else if (characters(line) + 1 + characters(word) <= width) {
      line += ' ';
      line += word;
    } else {
      lines.emplace_back(word);
    }
    start = word_end;
  }
  return lines;
}

std::string aligned(const std::vector<std::vector<std::string>>& rows) {
  std::size_t widest = 0;
  for (const auto& row : rows) widest = std::max(widest, row.size());
  std::vector<Column> columns(widest, {Align::right, 0});
  if (!columns.empty()) columns.front().align = Align::left;
  return aligned(rows, columns);
}

std::string aligned(const std::vector<std::vector<std::string>>& given,
                    const std::vector<Column>& columns) {
  const std::vector<std::vector<std::string>> rows = as_read(given);
  std::vector<Column> all = columns;
  for (const auto& row : rows) {
    if (row.size() == 1) continue;
    all.resize(std::max(all.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i)
      all[i].least = std::max(all[i].least, characters(row[i]));
  }
  std::string text;
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i)
      line += "  " + padded(row[i], all[i].least, all[i].align);
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

std::string paragraph(std::string_view text, std::size_t width, std::string_view first) {
  const std::size_t indent = characters(first);
  const std::vector<std::string> lines = wrapped(text, width > indent ? width - indent : 1);
  std::string printed;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    printed += (i == 0 ? std::string(first) : std::string(indent, ' ')) + lines[i] + '\n';
  }
  return printed;
}

std::string table_text(const std::vector<std::string>& columns,
                       const std::vector<std::vector<std::string>>& given, std::size_t width,
                       std::string_view indent) {
  const std::vector<std::vector<std::string>> rows = as_read(given);
  const auto widths = column_widths(columns, rows, width - characters(indent));
  std::string text = row_text(columns, widths, indent);
  std::vector<std::string> rule;
  rule.reserve(widths.size());
  for (const std::size_t column : widths) rule.emplace_back(column, '-');
  text += row_text(rule, widths, indent);
  for (const auto& row : rows) {
    const bool below = is_paragraph(row, columns.size());
    // As far in as the second column, so that the first can be run down by the eye.
    const std::string further(below ? widths.front() + kGap : 0, ' ');
    text += below ? paragraph(row.front(), width, std::string(indent) + further)
                  : row_text(row, widths, indent);
  }
  return text;
}

}  // namespace aeruca::detail
