#pragma once

// Binds a described result: each figure is a read-only attribute whose docstring is its meaning and
// unit; `describe()`, `_sheet()` (of which the HTML card is made), `__repr__` and the class's part
// of the stub follow from the same description.

#include <functional>
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

/// A figure of an object, as Python takes it. Of one kind for all figures: each kind of function
/// that pybind11 wraps costs the compiler a tenth of a second.
using Getter = std::function<py::object(py::handle)>;

/// A read-only attribute of a class, and its lines of the stub.
void add_figure(py::handle bound, const Label& label, const std::string& type, Getter getter);

/// What is read off a whole result.
struct Views {
  std::function<aeruca::detail::Sheet(py::handle)> sheet;
  std::function<std::string(py::handle)> line;
  std::function<std::string(py::handle, const std::string&)> csv;  ///< empty without lists
};
void add_views(py::handle bound, const std::string& name, Views views);

/// Throws TypeError: `self` is no `name`.
[[noreturn]] void refuse_kind(py::handle self, std::string_view name);

template <class Result>
const Result& held(py::handle self) {
  if (!py::isinstance<Result>(self)) refuse_kind(self, Description<Result>::name);
  return self.cast<const Result&>();
}

template <class Value>
constexpr bool is_numbers() {
  if constexpr (aeruca::detail::Listed<Value> && !aeruca::detail::Mapped<Value>)
    return std::is_arithmetic_v<typename Value::value_type>;
  else
    return false;
}

/// What is a part of `self` keeps it alive; what was worked out is handed over.
template <class Value>
py::object to_python(Value&& value, py::handle self) {
  using Plain = std::remove_cvref_t<Value>;
  if constexpr (std::is_enum_v<Plain>) {
    return py::str(std::string(to_string(value)));
  } else if constexpr (aeruca::detail::Places<Plain>) {
    return places(value);
  } else if constexpr (std::is_lvalue_reference_v<Value>) {
    return py::cast(value, py::return_value_policy::reference_internal, self);
  } else {
    return py::cast(std::move(value));
  }
}

template <class Result, class Member>
void bind_figure(py::handle bound, const Label& label, Member member) {
  using Value = aeruca::detail::Figured<Result, Member>;
  if constexpr (is_numbers<Value>()) {
    if (label.apart) {
      add_figure(bound, label, array_type<Value>(), [member](py::handle self) -> py::object {
        return to_array(std::invoke(member, held<Result>(self)));
      });
      return;
    }
  }
  add_figure(bound, label, python_type<Value>(), [member](py::handle self) {
    return to_python(std::invoke(member, held<Result>(self)), self);
  });
}

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
  Views views;
  views.sheet = [](py::handle r) { return aeruca::detail::sheet_of(held<Result>(r)); };
  views.line = [](py::handle r) { return aeruca::detail::line_of(held<Result>(r), Label{}); };
  if (aeruca::detail::has_lists<Result>()) {
    views.csv = [](py::handle r, const std::string& list) {
      return aeruca::detail::list_csv(held<Result>(r), list);
    };
  }
  add_views(bound, name, std::move(views));
  return bound;
}

}  // namespace described
