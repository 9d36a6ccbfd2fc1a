#pragma once

// The only way pybind11 is included, so that every binding file sees the same type casters.

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace py = pybind11;

using DoubleArray = py::array_t<double, py::array::c_style | py::array::forcecast>;

/// A C-contiguous float64 array as a span; valid while the array lives.
inline std::span<const double> span_of(const DoubleArray& array) {
  return {array.data(), static_cast<std::size_t>(array.size())};
}

/// A vector as a NumPy array of its own (one copy), reshaped when a shape is given.
template <class Number>
py::array_t<Number> to_array(const std::vector<Number>& values,
                             std::vector<py::ssize_t> shape = {}) {
  if (shape.empty()) shape.push_back(static_cast<py::ssize_t>(values.size()));
  py::array_t<Number> array(shape);
  std::copy(values.begin(), values.end(), array.mutable_data());
  return array;
}

/// The same without a copy: the array keeps what the vector held.
template <class Number>
py::array_t<Number> as_array(std::vector<Number>&& values, std::vector<py::ssize_t> shape) {
  auto kept = std::make_unique<std::vector<Number>>(std::move(values));
  const Number* first = kept->data();
  const py::capsule owner(kept.get(), [](void* held) {
    delete static_cast<std::vector<Number>*>(held);  // NOLINT(cppcoreguidelines-owning-memory)
  });
  static_cast<void>(kept.release());
  return py::array_t<Number>(std::move(shape), first, owner);
}

/// A method without arguments, bound so that None for the object is refused: pybind11 would hand a
/// bare member pointer a null object.
template <class Answer, class Class>
auto on_object(Answer (Class::*method)() const) {
  return [method](const Class& self) -> Answer { return (self.*method)(); };
}
