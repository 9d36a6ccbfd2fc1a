#include "aeruca/finds_sample.hpp"
#include "described.hpp"
#include "render/describe_finds_sample.hpp"

void bind_finds_sample(py::module_& m) {
  described::bind<aeruca::FindsSample>(m);
  m.def("finds_sample", &aeruca::finds_sample, py::arg("finds"), py::arg("tested"),
        py::arg("active"), "How many of all finds may be active, from those tested.");
}
