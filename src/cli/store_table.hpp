#pragma once

// `aeruca store FOLDER --table out.csv`: a table of objects by risk.

#include <string>
#include <vector>

#include "aeruca/store.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {

/// Reads and judges what the names stand for, each file an object, and writes the table.
void write_store_table(const std::string& table, const std::vector<std::string>& names,
                       const LoggerReadOptions& read, const StoreOptions& judge, Context& context);

}  // namespace aeruca::cli
