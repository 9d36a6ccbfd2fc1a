#pragma once

#include <string>

namespace aeruca::detail {

/// What practitioners ask, each with the command that answers or the reason why none does.
std::string questions_text(std::size_t width);
/// The same for programs: a list of question, command (null: none) and answer.
std::string questions_json();

}  // namespace aeruca::detail
