#pragma once

#include <string>
#include <string_view>

namespace aeruca::detail {

/// Refuses what the parser of toml++ 3.3 does not survive: it takes for granted, in place of
/// checking, that a table header holds a key (`[[[`), that no sign beyond ASCII stands outside quotes
/// and comments (U+00B7), behind a quote or bracket within a number (`0"`, `+[`) or first behind a
/// backslash, the next line included, and that a value stands where a list asks for one (`[}`). TOML
/// allows none of these but the one that is first in its line. Throws FileError with the line.
void refuse_broken_toml(const std::string& file, std::string_view text);

}  // namespace aeruca::detail
