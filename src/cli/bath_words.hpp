#pragma once

// What the two files that print baths share.

#include <nlohmann/json.hpp>

#include "base/text_table.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {

using Json = nlohmann::ordered_json;
using detail::aligned;

void print_data_line(Context& context);
void add_data_line(Json& out, Context& context);

}  // namespace aeruca::cli
