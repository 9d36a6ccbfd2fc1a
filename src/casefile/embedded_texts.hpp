#pragma once

// Texts of data/ that become part of the library when the build is configured.

#include <string_view>

namespace aeruca::detail {

/// data/words/english.toml
std::string_view english_words();

}  // namespace aeruca::detail
