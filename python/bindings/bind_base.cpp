#include <initializer_list>
#include <sstream>

#include "aeruca/cli.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/version.hpp"
#include "pybind.hpp"

namespace {

using py::literals::operator""_a;

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

// Every error carries what its sentence is made of, as attributes.
void raise_with(const py::handle& kind, const char* message, const py::dict& attributes) {
  const py::object error = kind(message);
  for (const auto& [name, value] : attributes) error.attr(name) = value;
  PyErr_SetObject(kind.ptr(), error.ptr());
}

// A class of errors whose attributes are None until they are set.
py::object error_class(py::module_& m, const char* name, const py::object& bases,
                       std::initializer_list<const char*> attributes, const char* doc) {
  py::exception<aeruca::Error> made(m, name, bases);
  for (const char* attribute : attributes) made.attr(attribute) = py::none();
  made.attr("__doc__") = doc;
  return made;
}

void bind_errors(py::module_& m) {
  static const py::object error =
      error_class(m, "Error", py::reinterpret_borrow<py::object>(PyExc_ValueError), {},
                  "Base of everything this library raises; also a ValueError.");
  static const py::object input =
      error_class(m, "InputError", error, {"parameter", "value", "accepted"},
                  "A value lies outside what is accepted: `parameter`, `value`, `accepted`.");
  static const py::object file = error_class(
      m, "FileError", error, {"file", "line", "field", "problem"},
      "A file cannot be read or used: `file`, `line` (None: not of one line), `field`, `problem`.");
  static const py::object unknown = error_class(
      m, "UnknownName", py::make_tuple(error, py::handle(PyExc_KeyError)),
      {"kind", "name", "nearest"},
      "A name that does not exist: `kind`, `name`, `nearest` (may be empty). Also a KeyError.");
  // KeyError shows its message in quotes.
  unknown.attr("__str__") = py::handle(PyExc_ValueError).attr("__str__");
  py::register_exception_translator([](std::exception_ptr pointer) {
    try {
      if (pointer) std::rethrow_exception(pointer);
    } catch (const aeruca::InputError& problem) {
      raise_with(input, problem.what(),
                 py::dict("parameter"_a = problem.parameter, "value"_a = problem.value,
                          "accepted"_a = problem.accepted));
    } catch (const aeruca::FileError& problem) {
      py::object line = py::none();
      if (problem.line > 0) line = py::int_(problem.line);
      raise_with(file, problem.what(),
                 py::dict("file"_a = problem.file, "line"_a = line, "field"_a = problem.field,
                          "problem"_a = problem.problem));
    } catch (const aeruca::UnknownName& problem) {
      raise_with(unknown, problem.what(),
                 py::dict("kind"_a = problem.kind, "name"_a = problem.name,
                          "nearest"_a = problem.nearest));
    } catch (const aeruca::Error& problem) {
      PyErr_SetString(error.ptr(), problem.what());
    }
  });
}

}  // namespace

void bind_base(py::module_& m) {
  m.def(
      "version", [] { return std::string(aeruca::version()); },
      "Version of the library, the same in C++, Python and the tool.");
  m.def("run_tool", &run_tool, py::arg("arguments"),
        "Run the command-line tool; returns (exit code, standard output, standard error).");
  bind_errors(m);
}
