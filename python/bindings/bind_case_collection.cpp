#include "aeruca/case_collection.hpp"

#include "described.hpp"
#include "render/case_collection_report.hpp"
#include "render/describe_case_collection.hpp"
#include "travelling_row.hpp"
#include "workbook.hpp"

namespace {

using namespace aeruca;

std::shared_ptr<const Dataset> or_default(const std::shared_ptr<Dataset>& dataset) {
  return dataset ? dataset : default_dataset();
}

CaseCollection assess(const std::vector<std::string>& paths, const std::string& date,
                      const std::shared_ptr<Dataset>& dataset, int threads,
                      const py::object& progress) {
  const bool told = !progress.is_none();
  CaseRun run{date, threads, workbook_reader(), case_workbooks(), {}};
  run.progress = [&](std::size_t done, std::size_t all) {
    const py::gil_scoped_acquire held;
    if (PyErr_CheckSignals() != 0) throw py::error_already_set();
    if (told) progress(done, all);
  };
  const py::gil_scoped_release released;
  return assess_collection(paths, or_default(dataset), run);
}

py::list rows_of(const CaseCollection& collection) {
  py::list rows;
  for (const ObjectCase& object : collection.objects) rows.append(dict_of(object));
  return rows;
}

CaseCollection ranked(std::vector<ObjectCase> objects, const std::string& date,
                      const std::shared_ptr<Dataset>& dataset) {
  return ranked_cases(std::move(objects), *or_default(dataset), date);
}

}  // namespace

void bind_case_collection(py::module_& m) {
  described::bind<ObjectCase>(m).def(travelling_row<ObjectCase>());
  described::bind<CaseCollection>(
      m, {"def to_text(self, width: int = 88) -> str: ...", "def to_json(self) -> str: ...",
          "def to_html(self) -> str: ...", "def to_rows(self) -> list[dict[str, object]]: ..."})
      .def(
          "to_text",
          [](const CaseCollection& c, int width) { return detail::case_collection_text(c, width); },
          py::arg("width") = 88, "Plain text in at most `width` columns, 60 to 200.")
      .def("to_json", &detail::case_collection_json, "Everything, as JSON.")
      .def("to_html", &detail::case_collection_html, "A page that needs no other file.")
      .def("to_rows", &rows_of,
           "A dictionary for each object, the most at risk first; None for what is not known.");
  m.def("find_case_files", &find_case_files, py::arg("names"),
        "Case files that names, folders and patterns stand for, each once.");
  m.def("assess_collection", &assess, py::arg("paths"), py::arg("date"),
        py::arg("dataset").none(true), py::arg("threads"), py::arg("progress"),
        "Assess cases, each an object; see aeruca.case.assess_folder.");
  m.def("ranked_cases", &ranked, py::arg("objects"), py::arg("date"), py::arg("dataset").none(true),
        "Rows in any order as a collection.");
}
