#include <unistd.h>

#include <iostream>
#include <memory>

#include "aeruca/assessment.hpp"
#include "aeruca/cli.hpp"
#include "aeruca/render.hpp"
#include "described.hpp"
#include "render/describe_case.hpp"
#include "workbook.hpp"

namespace {

aeruca::CaseAssessment assess_with_workbooks(aeruca::CaseFile file,
                                             const std::shared_ptr<const aeruca::Dataset>& dataset,
                                             const std::string& date) {
  file.store.reading.workbook = workbook_reader();
  return aeruca::assess_case(file, dataset, date);
}

aeruca::CaseAssessment assess(const std::string& path, const std::string& date,
                              std::shared_ptr<const aeruca::Dataset> dataset) {
  const py::gil_scoped_release released;
  if (!dataset) dataset = aeruca::default_dataset();
  return assess_with_workbooks(aeruca::read_case_file(path, case_workbooks()), dataset, date);
}

aeruca::CaseAssessment assess_text(const std::string& text, const std::string& path,
                                   const std::string& date,
                                   std::shared_ptr<const aeruca::Dataset> dataset) {
  const py::gil_scoped_release released;
  if (!dataset) dataset = aeruca::default_dataset();
  return assess_with_workbooks(aeruca::parse_case_file(text, path), dataset, date);
}

std::vector<aeruca::CaseOutcome> assess_many(const std::vector<std::string>& paths,
                                             const std::string& date,
                                             std::shared_ptr<const aeruca::Dataset> dataset,
                                             int threads) {
  const py::gil_scoped_release released;
  if (!dataset) dataset = aeruca::default_dataset();
  return aeruca::assess_cases(paths, dataset,
                              {date, threads, workbook_reader(), case_workbooks(), {}});
}

int run_tool_here(const std::vector<std::string>& arguments) {
  const py::gil_scoped_release released;
  const bool terminal = isatty(STDERR_FILENO) == 1;
  const int code =
      aeruca::run_tool(arguments, std::cout, std::cerr, workbook_reader(), case_workbooks(),
                       terminal ? aeruca::Audience::person : aeruca::Audience::program);
  std::cout.flush();
  return code;
}

void bind_results(py::module_& m) {
  using aeruca::CaseAssessment;
  using aeruca::CaseSection;
  described::bind<aeruca::CaseFinding>(m);
  described::bind<aeruca::CaseTable>(m);
  described::bind<CaseSection>(m, {"def __getitem__(self, key: str) -> CaseFinding: ..."})
      .def("__getitem__", &CaseSection::finding, py::arg("key"),
           "The finding of that key; UnknownName names the nearest.");
  described::bind<aeruca::CaseWaterPoint>(m);
  described::bind<aeruca::CaseDiagram>(m);
  described::bind<aeruca::StoreOdds>(m);
  described::bind<aeruca::SheetBox>(m);
  described::bind<aeruca::FrontSheet>(m);
  described::bind<aeruca::NextMeasurement>(m);
  described::bind<aeruca::Caution>(m);
  described::bind<aeruca::InputFile>(m);
  described::bind<aeruca::CaseObservation>(m);
  described::bind<aeruca::CaseObject>(m);
  described::bind<CaseAssessment>(
      m, {"def to_text(self, width: int = 88) -> str: ...",
          "def front_text(self, width: int = 88) -> str: ...", "def to_json(self) -> str: ..."})
      .def(
          "front_text",
          [](const CaseAssessment& a, int width) { return aeruca::front_text(a, width); },
          py::arg("width") = 88, "The front sheet as plain text in at most `width` columns.")
      .def(
          "to_text", [](const CaseAssessment& a, int width) { return aeruca::to_text(a, width); },
          py::arg("width") = 88, "Plain text in at most `width` columns.")
      .def(
          "to_json", [](const CaseAssessment& a) { return aeruca::to_json(a); },
          "Everything, as JSON.");
}

}  // namespace

void bind_case(py::module_& m) {
  bind_results(m);
  m.def(
      "assess_case",
      [](const std::string& path, const std::string& date,
         std::shared_ptr<aeruca::Dataset> dataset) {
        return assess(path, date, std::move(dataset));
      },
      py::arg("path"), py::arg("date"), py::arg("dataset").none(true),
      "Assess the object of a case file.");
  py::class_<aeruca::CaseOutcome>(m, "CaseOutcome", "One case of many.")
      .def_readonly("path", &aeruca::CaseOutcome::path)
      .def_readonly("assessment", &aeruca::CaseOutcome::assessment)
      .def_readonly("problem", &aeruca::CaseOutcome::problem);
  m.def(
      "assess_case_text",
      [](const std::string& text, const std::string& path, const std::string& date,
         std::shared_ptr<aeruca::Dataset> dataset) {
        return assess_text(text, path, date, std::move(dataset));
      },
      py::arg("text"), py::arg("path"), py::arg("date"), py::arg("dataset").none(true),
      "Assess a case from the text of its file; `path` is where it is taken to stand.");
  m.def(
      "check_case_text",
      [](const std::string& text, const std::string& path) {
        static_cast<void>(aeruca::parse_case_file(text, path));
      },
      py::arg("text"), py::arg("path"),
      "Read a case from the text of its file and nothing else; FileError for what is refused.");
  m.def(
      "assess_cases",
      [](const std::vector<std::string>& paths, const std::string& date,
         std::shared_ptr<aeruca::Dataset> dataset,
         int threads) { return assess_many(paths, date, std::move(dataset), threads); },
      py::arg("paths"), py::arg("date"), py::arg("dataset").none(true), py::arg("threads"),
      "Assess many case files, each on its own.");
  m.def("case_file_schema", &aeruca::case_file_schema, "JSON Schema of a case file.");
  m.def("assessment_schema", &aeruca::assessment_schema, "JSON Schema of an assessment.");
  m.def(
      "write_case_template",
      [](const std::string& path) { aeruca::write_case_template(path, case_workbooks()); },
      py::arg("path"), "Write a commented case file; FileError when the file exists.");
  m.def("run_tool_here", &run_tool_here, py::arg("arguments"),
        "Run the command-line tool on this process's standard output and error; returns the exit "
        "code.");
}
