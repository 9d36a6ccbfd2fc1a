#pragma once

// Text that came from a file or a user, on its way to a terminal.

#include <string>
#include <string_view>

namespace aeruca::detail {

/// The text with its control characters written out ("\\x1b"), so that none reaches the terminal.
/// Line ends stay when `lines`.
std::string printable(std::string_view text, bool lines = false);

/// As printable(), and what stands in quotes cut to some 60 characters, so that a message stays a
/// sentence.
std::string in_a_message(std::string_view text);

/// At most some 60 characters of the text, never part of one; "..." stands for the rest.
std::string clipped(std::string_view text);

}  // namespace aeruca::detail
