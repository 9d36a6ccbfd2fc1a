#pragma once

// What the two files that print baths share.

#include <nlohmann/json.hpp>

#include "base/text_table.hpp"
#include "cli/commands.hpp"
#include "render/json_number.hpp"

namespace aeruca::cli {

using Json = nlohmann::ordered_json;
using detail::aligned;
using detail::number_or_null;

void print_data_line(Context& context);
void add_data_line(Json& out, Context& context);

}  // namespace aeruca::cli
