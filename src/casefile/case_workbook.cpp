#include "casefile/case_workbook.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <utility>

#include "aeruca/errors.hpp"
#include "base/hash.hpp"
#include "base/text.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kLargest = std::size_t{1} << 25;  // bytes
constexpr std::array<std::string_view, 6> kOtherKinds{".ods",  ".xls",  ".xlsm",
                                                      ".xlsb", ".xltx", ".numbers"};

[[noreturn]] void refuse_kind(const std::string& path, const std::string& kind) {
  throw FileError(path, 0, "",
                  "is a workbook of another kind (" + kind +
                      "); accepted is one saved as .xlsx, or a case file as text (TOML)");
}

[[noreturn]] void refuse_without_python(const std::string& path) {
  throw FileError(path, 0, "",
                  "is a workbook, which this program neither reads nor writes; accepted is a case "
                  "file as text (TOML), or the aeruca of the Python package: pip install "
                  "\"aeruca[spreadsheet]\"");
}

// What spreadsheet programs lay beside a workbook that is open in them.
void refuse_while_open(const std::string& path) {
  const std::filesystem::path whole(path);
  const std::string name = whole.filename().string();
  for (const std::string& lock : {"~$" + name, ".~lock." + name + "#"}) {
    std::error_code ignored;
    if (!std::filesystem::exists(whole.parent_path() / lock, ignored)) continue;
    throw FileError(path, 0, "",
                    "is open in another program, for '" + lock +
                        "' lies beside it; accepted is a name that is open nowhere");
  }
}

}  // namespace

bool is_named_workbook(const std::string& path) {
  std::string end = std::filesystem::path(path).extension().string();
  std::transform(end.begin(), end.end(), end.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (std::find(kOtherKinds.begin(), kOtherKinds.end(), end) != kOtherKinds.end())
    refuse_kind(path, end);
  return end == ".xlsx";
}

bool is_case_workbook(const std::string& path) {
  const bool named = is_named_workbook(path);
  refuse_other_than_file(path);
  std::array<char, 4> head{};
  std::ifstream(path, std::ios::binary).read(head.data(), head.size());
  const std::string_view begins(head.data(), head.size());
  if (begins == "\xD0\xCF\x11\xE0") refuse_kind(path, ".xls, or with a password");
  return named || begins == "PK\x03\x04";
}

CaseFile read_case_workbook(const std::string& path, const CaseWorkbooks& workbooks) {
  if (!workbooks.read) refuse_without_python(path);
  CaseFile file;
  file.path = path;
  file.content_hash = content_hash(read_file(path, kLargest));
  CaseInWorkbook read = workbooks.read(path);
  file.cells = std::move(read.cells);
  file = parse_case_text(read.text, std::move(file));
  if (!read.bath_log.empty()) {
    file.bath.given = true;
    file.bath.log = std::filesystem::path(path).filename().string();
    file.bath.log_text = std::move(read.bath_log);
  }
  return file;
}

void write_case_workbook(const std::string& path, const CaseWorkbooks& workbooks) {
  if (!workbooks.blank) refuse_without_python(path);
  refuse_while_open(path);
  create_file(path, workbooks.blank(path));
}

BathLog bath_log_of(const CaseFile& file) {
  if (file.bath.log_text.empty())
    return read_bath_log(existing_log(file, "bath.log", file.bath.log));
  const auto place = [&file](long row, const std::string& column) {
    const std::string line = "bath.log[" + std::to_string(row) + "]";
    for (const std::string& key : {line + "." + column, line, std::string("bath.log")}) {
      const auto cell = file.cells.find(key);
      if (cell != file.cells.end()) return cell->second;
    }
    return std::string();
  };
  return parse_bath_log(file.bath.log_text, file.path, place);
}

}  // namespace aeruca::detail
