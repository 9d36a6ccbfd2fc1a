#include "workbook.hpp"

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/errors.hpp"

namespace {

// What Python's sentence is about: the file, and the cell where one is at fault (`place`).
[[noreturn]] void refuse(const std::string& path, const py::error_already_set& problem) {
  const py::object none = py::str("");
  const py::object place = py::getattr(problem.value(), "place", none);
  throw aeruca::FileError(path, 0, place.cast<std::string>(),
                          py::str(problem.value()).cast<std::string>());
}

// An interrupt goes on as it is.
template <class Work>
auto asked_of_python(const std::string& path, const Work& work) {
  const py::gil_scoped_acquire held;
  try {
    return work();
  } catch (py::error_already_set& problem) {
    if (!problem.matches(PyExc_Exception)) throw;
    refuse(path, problem);
  }
}

std::vector<aeruca::WorkbookSheet> sheets_of(const std::string& path) {
  return asked_of_python(path, [&] {
    std::vector<aeruca::WorkbookSheet> sheets;
    for (const py::handle sheet : py::module_::import("aeruca.workbook").attr("sheets_of")(path)) {
      const auto [name, csv] = sheet.cast<std::pair<std::string, std::string>>();
      sheets.push_back({name, csv});
    }
    return sheets;
  });
}

aeruca::CaseInWorkbook case_of(const std::string& path) {
  return asked_of_python(path, [&] {
    const py::object read = py::module_::import("aeruca.case_workbook.read").attr("case_of")(path);
    return aeruca::CaseInWorkbook{read.attr("text").cast<std::string>(),
                                  read.attr("bath_log").cast<std::string>(),
                                  read.attr("cells").cast<std::map<std::string, std::string>>()};
  });
}

std::string blank_case(const std::string& path) {
  return asked_of_python(path, [] {
    return std::string(
        py::bytes(py::module_::import("aeruca.case_workbook.blank").attr("blank")()));
  });
}

}  // namespace

aeruca::WorkbookReader workbook_reader() {
  return sheets_of;
}

aeruca::CaseWorkbooks case_workbooks() {
  return {case_of, blank_case};
}
