#include <sstream>

#include "aeruca/cli.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/version.hpp"
#include "pybind.hpp"

namespace {

// exit code, standard output, standard error
py::tuple run_tool(const std::vector<std::string>& arguments) {
  std::ostringstream out;
  std::ostringstream err;
  int code = 0;
  {
    py::gil_scoped_release released;
    code = aeruca::run_tool(arguments, out, err);
  }
  return py::make_tuple(code, out.str(), err.str());
}

}  // namespace

void bind_base(py::module_& m) {
  m.def("version", [] { return std::string(aeruca::version()); },
        "Version of the library, the same in C++, Python and the tool.");
  m.def("run_tool", &run_tool, py::arg("arguments"),
        "Run the command-line tool; returns (exit code, standard output, standard error).");
  // Base first: the last registered translator is tried first.
  auto error = py::register_exception<aeruca::Error>(m, "Error", PyExc_ValueError);
  py::register_exception<aeruca::InputError>(m, "InputError", error.ptr());
  py::register_exception<aeruca::FileError>(m, "FileError", error.ptr());
  static py::exception<aeruca::UnknownName> unknown(
      m, "UnknownName", py::make_tuple(error, py::handle(PyExc_KeyError)));
  py::register_exception_translator([](std::exception_ptr pointer) {
    try {
      if (pointer) std::rethrow_exception(pointer);
    } catch (const aeruca::UnknownName& problem) {
      PyErr_SetString(unknown.ptr(), problem.what());
    }
  });
}
