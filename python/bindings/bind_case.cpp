#include <iostream>
#include <memory>

#include "aeruca/assessment.hpp"
#include "aeruca/cli.hpp"
#include "pybind.hpp"

namespace {

aeruca::CaseAssessment assess(const std::string& path, const std::string& date,
                              std::shared_ptr<const aeruca::Dataset> dataset) {
  const py::gil_scoped_release released;
  if (!dataset) dataset = aeruca::default_dataset();
  return aeruca::assess_case(aeruca::read_case_file(path), dataset, date);
}

int run_tool_here(const std::vector<std::string>& arguments) {
  const py::gil_scoped_release released;
  const int code = aeruca::run_tool(arguments, std::cout, std::cerr);
  std::cout.flush();
  return code;
}

}  // namespace

void bind_case(py::module_& m) {
  py::class_<aeruca::CaseAssessment>(m, "CaseAssessment", "The assessment of one object.")
      .def("to_text", &aeruca::to_text, py::arg("width") = 88,
           "Plain text in at most `width` columns.")
      .def("to_json", &aeruca::to_json, "Everything, as JSON.");
  m.def(
      "assess_case",
      [](const std::string& path, const std::string& date,
         std::shared_ptr<aeruca::Dataset> dataset) {
        return assess(path, date, std::move(dataset));
      },
      py::arg("path"), py::arg("date"), py::arg("dataset").none(true),
      "Assess the object of a case file.");
  m.def("write_case_template", &aeruca::write_case_template, py::arg("path"),
        "Write a commented case file; FileError when the file exists.");
  m.def("run_tool_here", &run_tool_here, py::arg("arguments"),
        "Run the command-line tool on this process's standard output and error; returns the exit "
        "code.");
}
