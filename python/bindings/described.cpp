#include "described.hpp"

#include <regex>

namespace described {

Stub& stub() {
  static Stub one;
  return one;
}

std::string Stub::text() const {
  // Types of arguments and figures that are bound by hand.
  static const std::regex type("\\b[A-Z][A-Za-z]+\\b");
  std::set<std::string> elsewhere;
  for (std::sregex_iterator at(classes.begin(), classes.end(), type), end; at != end; ++at) {
    const std::string name = at->str();
    if (name != "None" && name != "NDArray" && !bound.contains(name)) elsewhere.insert(name);
  }
  std::string head =
      "# Written by tests/python/update_stub.py from the descriptions in src/render.\n"
      "import numpy as np\nimport numpy.typing as npt\n\n";
  const std::vector<std::string> names(elsewhere.begin(), elsewhere.end());
  if (!names.empty()) head += "from ._core import " + aeruca::detail::join(names, ", ") + "\n";
  return head +
         "\n_Sheet = tuple[\n    list[tuple[str, str, str, bool]],\n"
         "    list[tuple[str, list[str], list[list[str]]]],\n]\n" +
         classes;
}

std::string docstring(const Label& label) {
  std::string text(label.meaning);
  if (!label.unit.empty()) text += " (" + std::string(label.unit) + ")";
  return text;
}

std::string property_stub(std::string_view name, const std::string& type) {
  return "    @property\n    def " + std::string(name) + "(self) -> " + type + ": ...\n";
}

std::pair<std::vector<SheetRowTuple>, std::vector<SheetTableTuple>> sheet_tuples(
    const aeruca::detail::Sheet& sheet) {
  std::vector<SheetRowTuple> rows;
  for (const auto& row : sheet.rows)
    rows.emplace_back(row.name, row.meaning, row.value, row.glance);
  std::vector<SheetTableTuple> tables;
  for (const auto& table : sheet.tables)
    tables.emplace_back(table.title, table.columns, table.rows);
  return {rows, tables};
}

}  // namespace described
