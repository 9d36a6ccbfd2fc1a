#include "pybind.hpp"

// Each file binds one part.
void bind_base(py::module_& m);
void bind_climate(py::module_& m);

PYBIND11_MODULE(_core, m) {
  m.doc() = "Compiled core of aeruca; use the package, not this module.";
  bind_base(m);
  bind_climate(m);
}
