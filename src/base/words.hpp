#pragma once

// Every fixed sentence of a result by its key, apart from the logic that chooses it. A language is
// one file, data/words/<language>.toml; `Speaking` of aeruca/words.hpp chooses another than English.

#include <initializer_list>
#include <map>
#include <memory>
#include <span>
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
  /// From the text of its file: one line a sentence, `"next.mass.why" = "mg/L says ... {water}"`,
  /// a line that begins with # being a remark. `language` names it in messages. Throws Error for a
  /// line that is none of these, for a sentence written twice and for a slot that is not closed.
  Words(std::string language, std::string_view text);

  [[nodiscard]] const std::string& language() const { return language_; }
  /// In the order of the alphabet.
  [[nodiscard]] std::vector<std::string> keys() const;
  /// Names of the slots of a sentence, in the order of the alphabet. Throws as `say`.
  [[nodiscard]] std::vector<std::string> slots_of(std::string_view key) const;
  [[nodiscard]] bool has(std::string_view key) const { return texts_.contains(key); }
  /// The sentence as it is written, slots and all. Throws as `say`.
  [[nodiscard]] const std::string& text_of(std::string_view key) const;

  /// The sentence of this key, its slots filled. Throws Error, which names language and key, when
  /// there is no such sentence, when a slot has no place in it and when a place is left open.
  [[nodiscard]] std::string say(std::string_view key, std::span<const Slot> slots) const;
  [[nodiscard]] std::string say(std::string_view key, std::initializer_list<Slot> slots) const {
    return say(key, std::span<const Slot>(slots.begin(), slots.size()));
  }

  /// Throws Error, which names the key, unless this language has every sentence of `other` with the
  /// same slots, and no more. Their order within a sentence is that of the language.
  void check_against(const Words& other) const;

 private:
  [[noreturn]] void fault(std::string_view key, const std::string& what) const;
  void read_line(std::string_view line, std::size_t number);

  std::string language_;
  std::map<std::string, std::string, std::less<>> texts_;
};

/// The language that this thread speaks: English, or that of the innermost `Speaking`.
const Words& words_in_use();
/// The same for `Speaking` in a thread that works for this one; null: English.
std::shared_ptr<const Words> words_of_this_thread();

/// `words_in_use().say(key, slots)`
std::string say(std::string_view key, std::initializer_list<Slot> slots = {});
/// The word for a choice: ("verdict", "not known") -> that of "verdict.not_known".
std::string choice_word(std::string_view group, std::string_view choice);

}  // namespace aeruca::detail
