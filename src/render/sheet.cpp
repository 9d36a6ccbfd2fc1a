#include "render/sheet.hpp"

#include <algorithm>

#include "base/text_table.hpp"

namespace aeruca::detail {
namespace {

// Every column as wide as its widest cell.
std::string in_columns(const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> width;
  for (const auto& row : rows) {
    width.resize(std::max(width.size(), row.size()), 0);
    for (std::size_t i = 0; i < row.size(); ++i) width[i] = std::max(width[i], characters(row[i]));
  }
  std::string text;
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) line += "  " + padded(row[i], width[i]);
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

}  // namespace

std::string with_unit(std::string value, std::string_view unit) {
  if (!unit.empty() && value != "not known") value += " " + std::string(unit);
  return value;
}

std::string sheet_text(const Sheet& sheet) {
  std::vector<std::vector<std::string>> rows;
  for (const SheetRow& row : sheet.rows) rows.push_back({row.name, row.value, row.meaning});
  std::string text = in_columns(rows);
  for (const SheetTable& table : sheet.tables) {
    if (table.rows.empty()) continue;
    text += table.title + ":\n";
    std::vector<std::vector<std::string>> lines{table.columns};
    lines.insert(lines.end(), table.rows.begin(), table.rows.end());
    text += in_columns(lines);
  }
  return text;
}

}  // namespace aeruca::detail
