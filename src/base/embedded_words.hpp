#pragma once

// The languages that are part of the library: the files of data/words, as they were when it was
// built, so that none is looked for at run time.

#include <span>
#include <string_view>

namespace aeruca::detail {

struct EmbeddedLanguage {
  std::string_view name;  ///< "german", of data/words/german.toml
  std::string_view text;  ///< its file
};

/// All of them, in the order of the alphabet.
std::span<const EmbeddedLanguage> embedded_languages();

}  // namespace aeruca::detail
