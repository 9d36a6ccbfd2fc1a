#pragma once

#include <string>
#include <string_view>

namespace aeruca::detail {

/// Refuses what the parser of toml++ 3.3 does not survive: it takes for granted, in place of
/// checking, that a table header holds a key (`[[[`), that a value stands where a list asks for one
/// (`[}`), and that no sign beyond ASCII (U+00B7) stands outside quotes and comments, behind a quote,
/// bracket or equals sign within a number (`0"`, `+[`, `1=`), or first behind a backslash, the next
/// line included. Of all these TOML allows only the last, at the head of a line. Throws FileError with
/// the line.
void refuse_broken_toml(const std::string& file, std::string_view text);

}  // namespace aeruca::detail
