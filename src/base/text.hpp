#pragma once

// Small text tools every part may use: numbers in and out, nearest names, whole files.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

/// Shortest text that shows a number to `digits` significant figures ("0.0015", "1.2e-07", "not
/// known" for NaN).
std::string format_number(double value, int digits = 6);

/// A number with a point or (when `comma`) a comma for the decimals; empty when the text is not
/// exactly one finite number. Locale plays no part.
std::optional<double> parse_number(std::string_view text, bool comma = false);

/// The candidate meant by `name`, ignoring case: one that contains it or is contained in it (three
/// letters or more in common), else the closest by edit distance; empty when none is near.
std::string nearest_name(std::string_view name, std::span<const std::string> candidates);

std::string_view trim(std::string_view text);
std::vector<std::string_view> split(std::string_view text, char separator);
std::string join(std::span<const std::string> parts, std::string_view separator);

/// Throws FileError for a directory, a pipe or a device.
void refuse_other_than_file(const std::string& path);

/// Whole file as text. Throws FileError when it is no regular file, cannot be read to its end, is
/// UTF-16, or is longer than `limit` bytes.
std::string read_file(const std::string& path, std::size_t limit = std::size_t{1} << 30);

/// Writes a new file, whole or not at all. Throws FileError when anything of that name exists, even
/// if it came to be a moment ago, or when it cannot be written.
void create_file(const std::string& path, std::string_view text);

/// Writes a file, whole or not at all; what stood under that name stays until then. Throws FileError
/// when it cannot be written.
void replace_file(const std::string& path, std::string_view text);

}  // namespace aeruca::detail
