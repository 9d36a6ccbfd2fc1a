#include "aeruca/collection.hpp"

#include "described.hpp"
#include "render/describe_collection.hpp"
#include "travelling_row.hpp"

namespace {

using namespace aeruca;
using Progress = std::function<void(std::size_t, std::size_t)>;

Collection judge(const std::vector<std::string>& names, const LoggerReadOptions& read,
                 const StoreOptions& options, int threads, const py::object& progress) {
  const bool told = !progress.is_none();
  const Progress report = [&](std::size_t done, std::size_t all) {
    const py::gil_scoped_acquire held;
    if (PyErr_CheckSignals() != 0) throw py::error_already_set();
    if (told) progress(done, all);
  };
  const py::gil_scoped_release released;
  return judge_collection(names, read, options, threads, report);
}

ObjectRisk refused(const std::string& file, const std::string& problem) {
  ObjectRisk row;
  row.file = file;
  row.problem = problem;
  return row;
}

}  // namespace

void bind_collection(py::module_& m) {
  described::bind<ObjectRisk>(m).def(travelling_row<ObjectRisk>());
  described::bind<Collection>(m);
  m.def("judge_collection", &judge, py::arg("names"), py::arg("read"), py::arg("judge"),
        py::arg("threads"), py::arg("progress"),
        "Read and judge files, each an object; see aeruca.collection.judge_collection.");
  m.def("object_risk", &object_risk, py::arg("record"), py::arg("assessment"), py::arg("name") = "",
        "The row of a record that was judged.");
  m.def("refused_object", &refused, py::arg("file"), py::arg("problem"),
        "The row of a file or record that could not be used.");
  m.def("ranked", &ranked, py::arg("objects"), py::arg("onset"),
        "Rows in any order as a collection.");
}
