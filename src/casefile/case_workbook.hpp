#pragma once

// A case in a workbook: told from a text file, and handed to whoever reads and writes workbooks.

#include <string>
#include <string_view>

#include "aeruca/bath_log.hpp"
#include "aeruca/casefile.hpp"

namespace aeruca::detail {

/// Whether a file is named as a workbook (.xlsx). Throws FileError for the name of another kind.
bool is_named_workbook(const std::string& path);

/// The same, or begins as one. Throws FileError for another kind and for what is no regular file.
bool is_case_workbook(const std::string& path);

/// Throws FileError, with sheet and cell where one is at fault.
CaseFile read_case_workbook(const std::string& path, const CaseWorkbooks& workbooks);

/// Throws FileError as `write_case_template` does.
void write_case_workbook(const std::string& path, const CaseWorkbooks& workbooks);

/// Reads the sections of a case file's text into `file`, whose path stands in messages.
CaseFile parse_case_text(std::string_view text, CaseFile file);

/// The bath log of a case, from its file or its workbook. Throws FileError.
BathLog bath_log_of(const CaseFile& file);

}  // namespace aeruca::detail
