#pragma once

// What the two files that print baths share.

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/commands.hpp"

namespace aeruca::cli {

using Json = nlohmann::ordered_json;

/// Rows of text in aligned columns, two blanks between.
std::string in_columns(const std::vector<std::vector<std::string>>& rows);
Json number_or_null(double value);
void print_data_line(Context& context);
void add_data_line(Json& out, Context& context);

}  // namespace aeruca::cli
