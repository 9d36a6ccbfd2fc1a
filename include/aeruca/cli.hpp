#pragma once

/// \file
/// The command-line tool as a function, so that the C++ executable and the Python package run the
/// same.

#include <iosfwd>
#include <string>
#include <vector>

#include "aeruca/casefile.hpp"
#include "aeruca/logger.hpp"

namespace aeruca {

/// Who reads the messages while the tool runs.
enum class Audience {
  program,
  person  ///< at a terminal: long work tells how far it is
};

/// Runs `aeruca ARGUMENTS...` (without the program name). Results go to `out`, messages to `err`.
/// `workbook` reads logger files that are workbooks, where there is one, and `case_workbooks` cases. Returns 0 done, 1 bad input
/// or data, 2 usage, 3 computed without an answer. Throws nothing.
int run_tool(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
             const WorkbookReader& workbook = {}, const CaseWorkbooks& case_workbooks = {},
             Audience audience = Audience::program);

}  // namespace aeruca
