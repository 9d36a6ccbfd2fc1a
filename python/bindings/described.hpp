#pragma once

// Binds a described result: each figure is a read-only attribute whose docstring is its meaning and
// unit; `describe()`, `_sheet()` (of which the HTML card is made), `__repr__` and the class's part
// of the stub follow from the same description.

#include <initializer_list>
#include <set>
#include <string>
#include <tuple>

#include "pybind.hpp"
#include "render/csv.hpp"
#include "render/figures.hpp"
#include "render/sheet.hpp"

namespace described {

using aeruca::detail::Described;
using aeruca::detail::Description;
using aeruca::detail::Label;

/// What the stub of the described classes is made of while they are bound.
struct Stub {
  std::string classes;
  std::set<std::string> bound;

  /// The text of `_results.pyi`.
  [[nodiscard]] std::string text() const;
};
Stub& stub();

/// Type of a figure as Python sees it.
template <class Value>
std::string python_type() {
  namespace d = aeruca::detail;
  if constexpr (Described<Value>) {
    return std::string(Description<Value>::name);
  } else if constexpr (std::same_as<Value, bool>) {
    return "bool";
  } else if constexpr (std::floating_point<Value>) {
    return "float";
  } else if constexpr (std::integral<Value>) {
    return "int";
  } else if constexpr (d::Places<Value> && !d::Listed<Value>) {
    return "tuple[float, float]";
  } else if constexpr (d::Places<Value>) {
    if constexpr (d::Listed<typename Value::value_type>)
      return "list[" + python_type<typename Value::value_type>() + "]";
    else
      return "npt.NDArray[np.float64]";
  } else if constexpr (d::Mapped<Value>) {
    return "dict[str, " + python_type<typename Value::mapped_type>() + "]";
  } else if constexpr (d::Listed<Value>) {
    return "list[" + python_type<typename Value::value_type>() + "]";
  } else if constexpr (d::Optional<Value>) {
    return python_type<typename Value::value_type>() + " | None";
  } else if constexpr (d::Named<Value>) {
    return "tuple[str, float, float]";
  } else if constexpr (d::Paired<Value>) {
    return "tuple[" + python_type<typename Value::first_type>() + ", " +
           python_type<typename Value::second_type>() + "]";
  } else {
    return "str";
  }
}

template <class Value>
std::string array_type() {
  return std::floating_point<typename Value::value_type> ? "npt.NDArray[np.float64]"
                                                         : "npt.NDArray[np.int64]";
}

/// A place as (x, y), a polygon as an array of shape (n, 2), several as a list of arrays.
template <class Value>
py::object places(const Value& value) {
  if constexpr (!aeruca::detail::Listed<Value>) {
    return py::make_tuple(value.x, value.y);
  } else if constexpr (aeruca::detail::Listed<typename Value::value_type>) {
    py::list all;
    for (const auto& one : value) all.append(places(one));
    return all;
  } else {
    std::vector<double> flat;
    for (const auto& one : value) flat.insert(flat.end(), {one.x, one.y});
    return to_array(flat, {static_cast<py::ssize_t>(value.size()), 2});
  }
}

/// "time that is known (h)"
std::string docstring(const Label& label);
std::string property_stub(std::string_view name, const std::string& type);

template <class Result, class Class, class Member>
void bind_figure(Class& bound, const Label& label, Member member) {
  using Value = aeruca::detail::Figured<Result, Member>;
  const std::string name(label.name), doc = docstring(label);
  if constexpr (aeruca::detail::Listed<Value> && !aeruca::detail::Mapped<Value>) {
    if constexpr (std::is_arithmetic_v<typename Value::value_type>) {
      if (label.apart) {
        bound.def_property_readonly(
            name.c_str(), [member](const Result& r) { return to_array(std::invoke(member, r)); },
            doc.c_str());
        stub().classes += property_stub(label.name, array_type<Value>());
        return;
      }
    }
  }
  if constexpr (std::is_enum_v<Value>) {
    bound.def_property_readonly(
        name.c_str(),
        [member](const Result& r) { return std::string(to_string(std::invoke(member, r))); },
        doc.c_str());
  } else if constexpr (aeruca::detail::Places<Value>) {
    bound.def_property_readonly(
        name.c_str(), [member](const Result& r) { return places(std::invoke(member, r)); },
        doc.c_str());
  } else if constexpr (std::is_member_object_pointer_v<Member>) {
    bound.def_readonly(name.c_str(), member, doc.c_str());
  } else {
    bound.def_property_readonly(
        name.c_str(), [member](const Result& r) { return std::invoke(member, r); }, doc.c_str());
  }
  stub().classes += property_stub(label.name, python_type<Value>());
}

using SheetRowTuple = std::tuple<std::string, std::string, std::string, bool>;
using SheetTableTuple =
    std::tuple<std::string, std::vector<std::string>, std::vector<std::vector<std::string>>>;

std::pair<std::vector<SheetRowTuple>, std::vector<SheetTableTuple>> sheet_tuples(
    const aeruca::detail::Sheet& sheet);

/// The class of a described result. `more` are stub lines of methods that the caller adds by hand.
template <Described Result>
py::class_<Result> bind(py::module_& m, std::initializer_list<const char*> more = {}) {
  using About = Description<Result>;
  const std::string name(About::name), meaning(About::meaning);
  py::class_<Result> bound(m, name.c_str(), meaning.c_str());
  stub().bound.insert(name);
  stub().classes += "\nclass " + name + ":\n";
  for (const char* line : more) stub().classes += std::string("    ") + line + "\n";
  aeruca::detail::for_each_figure<Result>(
      [&bound](const Label& label, auto member) { bind_figure<Result>(bound, label, member); });
  bound.def(
      "describe", [](const Result& r) { return sheet_text(aeruca::detail::sheet_of(r)); },
      "Every figure with its unit and meaning, as text.");
  bound.def("_sheet", [](const Result& r) { return sheet_tuples(aeruca::detail::sheet_of(r)); });
  if (aeruca::detail::has_lists<Result>()) {
    bound.def(
        "to_csv",
        [](const Result& r, const std::string& list) { return aeruca::detail::list_csv(r, list); },
        py::arg("list"), "A list of this result, such as its months or baths, as CSV text.");
    stub().classes += "    def to_csv(self, list: str) -> str: ...\n";
  }
  bound.def("_line", [](const Result& r) { return aeruca::detail::line_of(r, Label{}); });
  bound.def("__repr__", [name](const Result& r) {
    return "<" + name + " " + aeruca::detail::line_of(r, Label{}) + ">";
  });
  stub().classes += "    def describe(self) -> str: ...\n";
  stub().classes += "    def _sheet(self) -> _Sheet: ...\n    def _line(self) -> str: ...\n";
  return bound;
}

}  // namespace described
