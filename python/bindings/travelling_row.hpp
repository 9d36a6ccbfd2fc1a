#pragma once

// A row of a table by risk as a dictionary, and on its way between processes.

#include "pybind.hpp"
#include "render/figures.hpp"

/// Every figure, in order: what a row is made of when it has travelled from another process.
template <class Row>
py::tuple state_of(const Row& row) {
  py::list state;
  aeruca::detail::for_each_figure<Row>([&](const aeruca::detail::Label&, auto member) {
    using Value = aeruca::detail::Figured<Row, decltype(member)>;
    if constexpr (std::is_enum_v<Value>)
      state.append(static_cast<int>(row.*member));
    else
      state.append(row.*member);
  });
  return py::tuple(state);
}

template <class Row>
Row from_state(const py::tuple& state) {
  Row row;
  std::size_t next = 0;
  aeruca::detail::for_each_figure<Row>([&](const aeruca::detail::Label&, auto member) {
    using Value = aeruca::detail::Figured<Row, decltype(member)>;
    const py::object value = state[next++];
    if constexpr (std::is_enum_v<Value>)
      row.*member = static_cast<Value>(value.cast<int>());
    else
      row.*member = value.cast<Value>();
  });
  return row;
}

/// Pickling of a row whose figures are its members, all of them.
template <class Row>
auto travelling_row() {
  return py::pickle(&state_of<Row>, &from_state<Row>);
}

/// The row by the names of its figures; None for what is not known.
template <class Row>
py::dict dict_of(const Row& row) {
  py::dict named;
  aeruca::detail::for_each_figure<Row>([&](const aeruca::detail::Label& label, auto member) {
    using Value = aeruca::detail::Figured<Row, decltype(member)>;
    py::object value;
    if constexpr (std::is_enum_v<Value>)
      value = py::str(std::string(to_string(row.*member)));
    else
      value = py::cast(row.*member);
    if constexpr (std::floating_point<Value>) {
      if (std::isnan(row.*member)) value = py::none();
    }
    named[py::str(std::string(label.name))] = value;
  });
  return named;
}
