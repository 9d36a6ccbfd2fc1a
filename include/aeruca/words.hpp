#pragma once

/// \file
/// Which language are results worded in? Findings, reasons, warnings and headings are text, worded
/// when a result is worked out or printed. The library speaks English, and others of `languages()`
/// by name; another language is one file with every sentence of `english_words()`, each by its key:
///
///     "next.ph.what" = "pH of {water}"        # {water}: a slot, anywhere in the sentence
///
/// Numbers and dates follow the language where they are text for a reader ("language.decimal_mark",
/// "language.date"), never in JSON and CSV. Not worded anew are names (of species, solids, verdicts in data, keys of JSON), units, text of
/// the data set and of the case, faults of files and messages of errors.

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca {

namespace detail {
class Words;
}

/// Within its scope this thread, and every thread that works for it, speaks another language.
/// Scopes nest; each ends on the thread where it began.
class Speaking {
 public:
  /// One of `languages()`, by its name, or a file ("./german" for one that is called like a
  /// language). Throws Error for a name that is neither, FileError for a file that cannot be read,
  /// and Error, which names the line or the sentence, for a line that is no sentence, for a sentence
  /// of English that is not there or has other slots, and for one that English does not have.
  explicit Speaking(const std::string& language);
  /// Speaks as another thread does.
  explicit Speaking(std::shared_ptr<const detail::Words> words);
  ~Speaking();
  Speaking(const Speaking&) = delete;
  Speaking& operator=(const Speaking&) = delete;

 private:
  std::shared_ptr<const detail::Words> before_;  // spoken outside of the scope
};

/// Names of the languages that the library holds: "english", "german".
[[nodiscard]] std::vector<std::string> languages();

/// The sentences of English as their file, to begin another language from.
[[nodiscard]] std::string_view english_words();

}  // namespace aeruca
