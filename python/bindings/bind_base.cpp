#include <initializer_list>
#include <map>
#include <memory>
#include <span>
#include <sstream>
#include <utility>

#include "aeruca/cli.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/version.hpp"
#include "aeruca/words.hpp"
#include "base/localised.hpp"
#include "base/number_text.hpp"
#include "base/words.hpp"
#include "pybind.hpp"
#include "workbook.hpp"

namespace {

using py::literals::operator""_a;

// exit code, standard output, standard error
py::tuple run_tool(const std::vector<std::string>& arguments) {
  std::ostringstream out;
  std::ostringstream err;
  int code = 0;
  {
    py::gil_scoped_release released;
    code = aeruca::run_tool(arguments, out, err, workbook_reader(), case_workbooks());
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

// A scope that Python begins and ends.
class WordsScope {
 public:
  explicit WordsScope(std::string language) : language_(std::move(language)) {}
  void begin() { scope_ = std::make_unique<aeruca::Speaking>(language_); }
  void end() { scope_.reset(); }

 private:
  std::string language_;
  std::unique_ptr<aeruca::Speaking> scope_;
};

std::string say(const std::string& key, const std::map<std::string, std::string>& filled) {
  std::vector<aeruca::detail::Slot> slots;
  for (const auto& [name, text] : filled) slots.push_back({name, text});
  return aeruca::detail::words_in_use().say(key, std::span<const aeruca::detail::Slot>(slots));
}

void bind_words(py::module_& m) {
  m.def(
      "english_words", [] { return std::string(aeruca::english_words()); },
      "The sentences of English as their file, to begin another language from.");
  m.def("languages", &aeruca::languages, "Names of the languages that the library holds.");
  m.def("say", &say, py::arg("key"), py::arg("slots"),
        "The sentence of a key with its slots filled, in the language in use.");
  m.def(
      "localised", [](std::string text) { return aeruca::detail::localised(std::move(text)); },
      py::arg("text"),
      "A text that is wholly a figure or a date as the language in use writes it.");
  m.def("probability_text", &aeruca::detail::probability_text, py::arg("probability"),
        "Two figures, and never rounded to certainty.");
  py::class_<WordsScope>(m, "WordsScope", "A language spoken on this thread from begin to end.")
      .def(py::init<std::string>(), py::arg("language"))
      .def("begin", [](WordsScope& scope) { scope.begin(); })
      .def("end", [](WordsScope& scope) { scope.end(); });
}

}  // namespace

void bind_base(py::module_& m) {
  m.def(
      "version", [] { return std::string(aeruca::version()); },
      "Version of the library, the same in C++, Python and the tool.");
  m.def("run_tool", &run_tool, py::arg("arguments"),
        "Run the command-line tool; returns (exit code, standard output, standard error).");
  bind_errors(m);
  bind_words(m);
}
