#pragma once

// What the two files that print baths share.

#include "base/text_table.hpp"
#include "cli/commands.hpp"
#include "render/json_value.hpp"

namespace aeruca::cli {

using detail::aligned;
using detail::Json;

/// Adds `decide` and `plan` to `aeruca bath`.
void add_bath_decisions(Command* bath, Context& context);
/// Adds `chemistry`.
void add_bath_chemistry(Command* bath, Context& context);
/// Adds `meter`.
void add_bath_meter(Command* bath, Context& context);
/// Adds `rinse`.
void add_bath_rinse(Command* bath, Context& context);

/// "volumes_l" -> "--volumes-l": the option as it was typed.
[[nodiscard]] std::string option_named(std::string parameter);

void print_data_line(Context& context);
void add_data_line(Json& out, Context& context);

}  // namespace aeruca::cli
