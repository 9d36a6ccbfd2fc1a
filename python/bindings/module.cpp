#include "described.hpp"

// Each file binds one part.
void bind_base(py::module_& m);
void bind_dataset(py::module_& m);
void bind_activity(py::module_& m);
void bind_brine(py::module_& m);
void bind_water(py::module_& m);
void bind_bath(py::module_& m);
void bind_bath_chemistry(py::module_& m);
void bind_bath_posterior(py::module_& m);
void bind_store(py::module_& m);
void bind_collection(py::module_& m);
void bind_enclosure(py::module_& m);
void bind_finds_sample(py::module_& m);
void bind_case(py::module_& m);
void bind_case_collection(py::module_& m);
void bind_stability(py::module_& m);
void bind_totals_fields(py::module_& m);
void bind_equilibrium(py::module_& m);
void bind_analysis(py::module_& m);
void bind_minerals(py::module_& m);
void bind_path(py::module_& m);

PYBIND11_MODULE(_core, m) {
  m.doc() = "Compiled core of aeruca; use the package, not this module.";
  bind_base(m);
  bind_dataset(m);
  bind_water(m);
  bind_activity(m);
  bind_brine(m);
  bind_bath(m);
  bind_bath_posterior(m);
  bind_store(m);
  bind_collection(m);
  bind_enclosure(m);
  bind_stability(m);
  bind_totals_fields(m);
  bind_equilibrium(m);
  bind_analysis(m);
  bind_minerals(m);
  bind_path(m);
  bind_finds_sample(m);
  bind_bath_chemistry(m);
  bind_case(m);
  bind_case_collection(m);
  m.def("_results_stub", [] { return described::stub().text(); });
}
