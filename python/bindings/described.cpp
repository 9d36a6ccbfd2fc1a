#include "described.hpp"

#include <algorithm>
#include <cctype>

namespace described {

Stub& stub() {
  static Stub one;
  return one;
}

namespace {

// Words of letters that begin with a capital, as types do.
std::set<std::string> type_names(const std::string& text) {
  const auto of_word = [](unsigned char c) { return std::isalnum(c) != 0 || c == '_'; };
  std::set<std::string> names;
  for (auto at = text.begin(); at != text.end();) {
    at = std::find_if(at, text.end(), of_word);
    const auto end = std::find_if_not(at, text.end(), of_word);
    const bool letters = std::all_of(at, end, [](unsigned char c) { return std::isalpha(c) != 0; });
    if (end - at > 1 && letters && std::isupper(static_cast<unsigned char>(*at)) != 0)
      names.emplace(at, end);
    at = end;
  }
  return names;
}

}  // namespace

std::string Stub::text() const {
  // Types of arguments and figures that are bound by hand.
  std::set<std::string> elsewhere = type_names(classes);
  for (const char* plain : {"None", "NDArray"}) elsewhere.erase(plain);
  for (const std::string& name : bound) elsewhere.erase(name);
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

void refuse_kind(py::handle self, std::string_view name) {
  throw py::type_error("this is asked of a " + std::string(name) + ", not of " +
                       std::string(py::repr(self)));
}

namespace {

// "time that is known (h)"
std::string docstring(const Label& label) {
  std::string text(label.meaning);
  if (!label.unit.empty()) text += " (" + std::string(label.unit) + ")";
  return text;
}

using SheetRowTuple = std::tuple<std::string, std::string, std::string, bool>;
using SheetTableTuple =
    std::tuple<std::string, std::vector<std::string>, std::vector<std::vector<std::string>>>;

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

// A method of a class that was bound elsewhere.
template <class Function, class... More>
void add_method(py::handle bound, const char* name, Function&& function, const More&... more) {
  bound.attr(name) = py::cpp_function(std::forward<Function>(function), py::name(name),
                                      py::is_method(bound), more...);
}

}  // namespace

void add_figure(py::handle bound, const Label& label, const std::string& type, Getter getter) {
  const std::string name(label.name), doc = docstring(label);
  const auto property = py::handle(reinterpret_cast<PyObject*>(&PyProperty_Type));
  bound.attr(name.c_str()) = property(py::cpp_function(std::move(getter), py::is_method(bound)),
                                      py::none(), py::none(), doc);
  stub().classes += "    @property\n    def " + name + "(self) -> " + type + ": ...\n";
}

void add_views(py::handle bound, const std::string& name, Views views) {
  add_method(
      bound, "describe", [sheet = views.sheet](py::handle r) { return sheet_text(sheet(r)); },
      "Every figure with its unit and meaning, as text.");
  add_method(bound, "_sheet",
             [sheet = views.sheet](py::handle r) { return sheet_tuples(sheet(r)); });
  if (views.csv) {
    add_method(bound, "to_csv", views.csv, py::arg("list") = "",
               "A list of this result, such as its months or baths, as CSV text; the only one by "
               "default.");
    stub().classes += "    def to_csv(self, list: str = ...) -> str: ...\n";
  }
  add_method(bound, "_line", views.line);
  add_method(bound, "__repr__",
             [name, line = views.line](py::handle r) { return "<" + name + " " + line(r) + ">"; });
  stub().classes += "    def describe(self) -> str: ...\n";
  add_method(bound, "_repr_html_",
             [](py::handle r) { return py::module_::import("aeruca.cards").attr("card")(r); });
  stub().classes += "    def _repr_html_(self) -> str: ...\n";
  stub().classes += "    def _sheet(self) -> _Sheet: ...\n    def _line(self) -> str: ...\n";
}

}  // namespace described
