#pragma once

// Every fixed sentence of an assessment by its key, apart from the logic that chooses it. The words
// stand in data/words/english.toml; another language is another such file.

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca::detail {

struct Sentence {
  std::string key;   ///< "next.mass.why"
  std::string text;  ///< with slots in braces: "pH of {water}"
};

/// In the order of their keys.
const std::vector<Sentence>& english();

/// What takes the place of `{name}`.
struct Slot {
  std::string_view name;
  std::string text;
};

/// The sentence of this key, its slots filled. Throws Error, which names the key, when there is no
/// such sentence, when a slot has no place in it and when a place is left open.
std::string say(std::string_view key, std::initializer_list<Slot> slots = {});

}  // namespace aeruca::detail
