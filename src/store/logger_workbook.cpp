#include "store/logger_workbook.hpp"

#include <algorithm>
#include <array>
#include <fstream>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "store/logger_header.hpp"

namespace aeruca::detail {
namespace {

using Sheets = std::vector<WorkbookSheet>;

std::vector<std::string> names_of(const Sheets& sheets) {
  std::vector<std::string> names;
  for (const WorkbookSheet& sheet : sheets) names.push_back(sheet.name);
  return names;
}

const WorkbookSheet& sheet_named(const Sheets& sheets, const std::string& name,
                                 const std::string& path) {
  for (const WorkbookSheet& sheet : sheets) {
    if (sheet.name == name) return sheet;
  }
  throw FileError(
      path, 0, "sheet",
      "has no sheet '" + name + "'; accepted is one of " + join(names_of(sheets), ", "));
}

const WorkbookSheet& sheet_with_readings(const Sheets& sheets, const LoggerReadOptions& options,
                                         const std::string& path) {
  if (sheets.size() == 1) return sheets.front();  // what is wrong with it, its reader says
  const WorkbookSheet* found = nullptr;
  for (const WorkbookSheet& sheet : sheets) {
    if (!names_readings(sheet.csv, options)) continue;
    if (found != nullptr) {
      throw FileError(path, 0, "sheet",
                      "'" + found->name + "' and '" + sheet.name +
                          "' both hold readings; accepted is the name of one in " +
                          option_named("sheet"));
    }
    found = &sheet;
  }
  if (found != nullptr) return *found;
  throw FileError(path, 0, "sheet",
                  "none of the sheets (" + join(names_of(sheets), ", ") +
                      ") names a time and a humidity column; accepted is for instance a row "
                      "'time', 'temperature (C)', 'RH (%)' above the readings");
}

}  // namespace

bool is_workbook(const std::string& path) {
  refuse_other_than_file(path);
  std::array<char, 4> head{};
  std::ifstream(path, std::ios::binary).read(head.data(), head.size());
  const std::string_view begins(head.data(), head.size());
  if (begins == "\xD0\xCF\x11\xE0")
    throw FileError(path, 0, "", "is a workbook of an old kind; accepted is .xlsx or CSV");
  return begins == "PK\x03\x04";
}

LoggerRecord read_workbook(const std::string& path, const LoggerReadOptions& options) {
  if (!options.workbook) {
    throw FileError(path, 0, "",
                    "is a workbook, which this program does not read; accepted is the sheet saved "
                    "as CSV, or the aeruca of the Python package: pip install "
                    "\"aeruca[spreadsheet]\"");
  }
  const Sheets sheets = options.workbook(path);
  if (sheets.empty()) throw FileError(path, 0, "sheet", "holds no sheet; at least one is wanted");
  const WorkbookSheet& sheet = options.sheet.empty() ? sheet_with_readings(sheets, options, path)
                                                     : sheet_named(sheets, options.sheet, path);
  LoggerReadOptions as_text = options;
  as_text.sheet.clear();
  LoggerRecord record = parse_logger_csv(sheet.csv, path, as_text);
  if (sheets.size() > 1)
    record.read_as.push_back("readings are those of the sheet '" + sheet.name + "'");
  return record;
}

}  // namespace aeruca::detail
