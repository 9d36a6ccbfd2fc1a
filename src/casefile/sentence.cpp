#include "casefile/sentence.hpp"

#include <toml++/toml.h>

#include <algorithm>

#include "aeruca/errors.hpp"
#include "casefile/embedded_texts.hpp"

namespace aeruca::detail {
namespace {

[[noreturn]] void fault(std::string_view key, const std::string& what) {
  throw Error("the sentence '" + std::string(key) + "' " + what);
}

std::vector<Sentence> read(std::string_view text) {
  std::vector<Sentence> all;
  for (const auto& [key, node] : toml::parse(text)) {
    if (!node.is_string()) fault(key.str(), "is no text");
    all.push_back({std::string(key.str()), node.as_string()->get()});
  }
  return all;  // a table of TOML is in the order of its keys
}

std::string_view text_of(std::string_view key) {
  const std::vector<Sentence>& all = english();
  const auto found = std::lower_bound(
      all.begin(), all.end(), key,
      [](const Sentence& one, std::string_view wanted) { return one.key < wanted; });
  if (found == all.end() || found->key != key) fault(key, "is not written");
  return found->text;
}

}  // namespace

const std::vector<Sentence>& english() {
  static const std::vector<Sentence> all = read(english_words());
  return all;
}

// Filled from left to right, so that braces in what fills a slot are no slots.
std::string say(std::string_view key, std::initializer_list<Slot> slots) {
  const std::string_view text = text_of(key);
  std::string said;
  std::size_t filled = 0;
  std::size_t at = 0;
  for (std::size_t open = text.find('{'); open != std::string_view::npos;
       open = text.find('{', at)) {
    const std::size_t close = text.find('}', open);
    const std::string_view name = text.substr(open + 1, close - open - 1);
    const auto slot = std::find_if(slots.begin(), slots.end(),
                                   [name](const Slot& one) { return one.name == name; });
    if (slot == slots.end()) fault(key, "has no words for {" + std::string(name) + "}");
    said.append(text.substr(at, open - at)).append(slot->text);
    at = close + 1;
    ++filled;
  }
  if (filled < slots.size()) fault(key, "has no place for all that was said");
  return said.append(text.substr(at));
}

}  // namespace aeruca::detail
