#pragma once

// Every fixed sentence and word of an assessment by its key, apart from the logic that chooses it.
// A language is one file, data/words/<language>.toml; `words_in_use` alone says which is spoken.

#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

/// What takes the place of `{name}`.
struct Slot {
  std::string_view name;
  std::string text;
};

/// The sentences of one language.
class Words {
 public:
  /// From the text of its file: one line a sentence, `"next.mass.why" = "mg/L says ... {water}"`.
  /// `language` names it in messages. Throws Error for what is no text and for a slot that is not
  /// closed.
  Words(std::string language, std::string_view toml);

  [[nodiscard]] const std::string& language() const { return language_; }
  /// In the order of their keys.
  [[nodiscard]] std::vector<std::string> keys() const;
  /// Names of the slots of a sentence, in the order of the alphabet. Throws as `say`.
  [[nodiscard]] std::vector<std::string> slots_of(std::string_view key) const;

  /// The sentence of this key, its slots filled. Throws Error, which names language and key, when
  /// there is no such sentence, when a slot has no place in it and when a place is left open.
  [[nodiscard]] std::string say(std::string_view key, std::initializer_list<Slot> slots) const;

  /// Throws Error, which names the key, unless this language has every sentence of `other` with the
  /// same slots, and no more. Their order within a sentence is that of the language.
  void check_against(const Words& other) const;

 private:
  [[noreturn]] void fault(std::string_view key, const std::string& what) const;
  [[nodiscard]] const std::string& text_of(std::string_view key) const;

  std::string language_;
  std::map<std::string, std::string, std::less<>> texts_;
};

/// The language that the library speaks: the one place that chooses it.
const Words& words_in_use();

/// `words_in_use().say(key, slots)`
std::string say(std::string_view key, std::initializer_list<Slot> slots = {});

}  // namespace aeruca::detail
