#pragma once

// "Cl(-)=-0.44": a name and its number, as options take them.

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace aeruca::cli {

/// Throws InputError with `accepted`.
[[nodiscard]] std::pair<std::string, double> named_number(const std::string& option,
                                                          const std::string& text,
                                                          const char* accepted);

/// Every one of an option. Throws UsageError for a name that stands twice: its first value would be
/// lost without a word.
[[nodiscard]] std::map<std::string, double> named_numbers(const std::string& option,
                                                          const std::vector<std::string>& texts,
                                                          const char* accepted);

}  // namespace aeruca::cli
