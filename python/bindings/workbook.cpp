#include "workbook.hpp"

#include "aeruca/errors.hpp"

namespace {

std::vector<aeruca::WorkbookSheet> sheets_of(const std::string& path) {
  const py::gil_scoped_acquire held;
  std::vector<aeruca::WorkbookSheet> sheets;
  try {
    for (const py::handle sheet : py::module_::import("aeruca.workbook").attr("sheets_of")(path)) {
      const auto [name, csv] = sheet.cast<std::pair<std::string, std::string>>();
      sheets.push_back({name, csv});
    }
  } catch (py::error_already_set& problem) {
    // An interrupt goes on as it is.
    if (!problem.matches(PyExc_Exception)) throw;
    throw aeruca::FileError(path, 0, "", py::str(problem.value()).cast<std::string>());
  }
  return sheets;
}

}  // namespace

aeruca::WorkbookReader workbook_reader() {
  return sheets_of;
}
