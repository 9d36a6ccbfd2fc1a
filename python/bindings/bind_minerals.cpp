#include "aeruca/minerals.hpp"

#include "described.hpp"
#include "render/describe_minerals.hpp"

using namespace aeruca;

namespace {

// None in Python: the data set built in.
std::shared_ptr<const Dataset> chosen(const std::shared_ptr<Dataset>& given) {
  return given ? given : default_dataset();
}

}  // namespace

void bind_minerals(py::module_& m) {
  described::bind<FieldTest>(m);
  described::bind<Mineral>(m);
  described::bind<MineralSight>(m);
  described::bind<MineralCandidate>(m);
  described::bind<OutcomeLeaves>(m);
  described::bind<NextFieldTest>(m);
  described::bind<MineralIdentification>(m);
  m.def(
      "_minerals",
      [](const std::shared_ptr<Dataset>& dataset) { return chosen(dataset)->minerals; },
      py::arg("dataset"));
  m.def(
      "_mineral",
      [](const std::shared_ptr<Dataset>& dataset, const std::string& name) {
        return chosen(dataset)->mineral(name);
      },
      py::arg("dataset"), py::arg("name"));
  m.def(
      "_field_tests",
      [](const std::shared_ptr<Dataset>& dataset) { return chosen(dataset)->field_tests; },
      py::arg("dataset"));
  m.def(
      "_identify_mineral",
      [](const std::shared_ptr<Dataset>& dataset, const std::vector<std::string>& seen) {
        return identify_mineral(*chosen(dataset), seen);
      },
      py::arg("dataset"), py::arg("seen"));
}
