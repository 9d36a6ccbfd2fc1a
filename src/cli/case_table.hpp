#pragma once

// `aeruca case FOLDER`: a table of objects by risk.

#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace aeruca::cli {

struct CaseTableRequest {
  std::string date;  ///< of the assessments
  std::string csv;   ///< file to write; empty: none
  std::string html;
  int threads = 0;
  int width = 88;
  Option* threads_option = nullptr;
};

/// The options of a table.
void add_case_table(Command& command, CaseTableRequest& request);

/// Whether the names stand for more than one case file, or a table of it is asked for.
bool wants_table(const std::vector<std::string>& names, const CaseTableRequest& request);

/// Assesses the cases that the names stand for, writes the files that are asked for and prints the
/// table.
void write_case_table(const std::vector<std::string>& names, const CaseTableRequest& request,
                      Context& context);

}  // namespace aeruca::cli
