#pragma once

// Files by name: of a folder, or by a pattern.

#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

/// Whether the text holds a sign of a pattern: * ? or [.
bool is_pattern(std::string_view text);

/// Whether a name without slashes fits a pattern: * any text, ? one letter (a byte where the name is
/// not UTF-8), [abc] and [a-z] one of them, [!abc] one of no such. A point at the beginning is
/// fitted by a point alone.
bool fits(std::string_view name, std::string_view pattern);

/// Regular files in a folder, those below not, in the order of their names. Names that begin with a
/// point are passed over. Throws FileError when the folder cannot be read.
std::vector<std::string> files_in(const std::string& folder);

/// Files whose path fits a pattern, folder by folder; ** for any folders below. A folder or file of
/// just the name of a part goes before its pattern. In the order of
/// their names.
std::vector<std::string> files_like(const std::string& pattern);

}  // namespace aeruca::detail
