#include "render/sheet.hpp"

#include "aeruca/logger.hpp"
#include "base/text_table.hpp"

namespace aeruca::detail {

std::string moment_text(std::int64_t time_s) {
  return format_time(time_s);
}

std::string with_unit(std::string value, std::string_view unit) {
  if (!unit.empty() && value != "not known") value += " " + std::string(unit);
  return value;
}

std::string sheet_text(const Sheet& sheet) {
  std::vector<std::vector<std::string>> rows;
  for (const SheetRow& row : sheet.rows) rows.push_back({row.name, row.value, row.meaning});
  std::string text = aligned(rows, {});
  for (const SheetTable& table : sheet.tables) {
    if (table.rows.empty()) continue;
    text += table.title + ":\n";
    std::vector<std::vector<std::string>> lines{table.columns};
    lines.insert(lines.end(), table.rows.begin(), table.rows.end());
    text += aligned(lines, {});
  }
  return text;
}

}  // namespace aeruca::detail
