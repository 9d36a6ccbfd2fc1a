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
  m.def(
      "version", [] { return std::string(aeruca::version()); },
      "Version of the library, the same in C++, Python and the tool.");
  m.def("run_tool", &run_tool, py::arg("arguments"),
        "Run the command-line tool; returns (exit code, standard output, standard error).");
  // Base first: the last registered translator is tried first.
  auto error = py::register_exception<aeruca::Error>(m, "Error", PyExc_ValueError);
  auto input = py::register_exception<aeruca::InputError>(m, "InputError", error.ptr());
  auto file = py::register_exception<aeruca::FileError>(m, "FileError", error.ptr());
  static py::exception<aeruca::UnknownName> unknown(
      m, "UnknownName", py::make_tuple(error, py::handle(PyExc_KeyError)));
  // KeyError shows its message in quotes.
  unknown.attr("__str__") = py::handle(PyExc_ValueError).attr("__str__");
  unknown.attr("__doc__") =
      "A name that does not exist; the message has the nearest one. Also a KeyError.";
  error.attr("__doc__") = "Base of everything this library raises; also a ValueError.";
  input.attr("__doc__") =
      "A value lies outside what is accepted: parameter, value, what is accepted.";
  file.attr("__doc__") = "A file cannot be read or used: file, line, field, what is accepted.";
  py::register_exception_translator([](std::exception_ptr pointer) {
    try {
      if (pointer) std::rethrow_exception(pointer);
    } catch (const aeruca::UnknownName& problem) {
      PyErr_SetString(unknown.ptr(), problem.what());
    }
  });
}
