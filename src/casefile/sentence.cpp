#include "casefile/sentence.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <set>
#include <utility>

#include "aeruca/errors.hpp"
#include "casefile/embedded_texts.hpp"

namespace aeruca::detail {
namespace {

// A sentence in pieces: text, slot, text, slot ... text.
template <class Text, class Name>
void each_piece(std::string_view sentence, Text text, Name name) {
  std::size_t at = 0;
  for (std::size_t open = sentence.find('{'); open != std::string_view::npos;
       open = sentence.find('{', at)) {
    text(sentence.substr(at, open - at));
    const std::size_t close = sentence.find('}', open);
    name(sentence.substr(open + 1, close - open - 1));
    at = close == std::string_view::npos ? sentence.size() : close + 1;
  }
  text(sentence.substr(at));
}

std::set<std::string> slots_in(std::string_view sentence) {
  std::set<std::string> names;
  each_piece(
      sentence, [](std::string_view) {}, [&](std::string_view name) { names.emplace(name); });
  return names;
}

}  // namespace

Words::Words(std::string language, std::string_view toml) : language_(std::move(language)) {
  for (const auto& [key, node] : toml::parse(toml)) {
    if (!node.is_string()) fault(key.str(), "is no text");
    const std::string& text = node.as_string()->get();
    if (std::count(text.begin(), text.end(), '{') != std::count(text.begin(), text.end(), '}'))
      fault(key.str(), "has a slot that is not closed");
    texts_.emplace(key.str(), text);
  }
}

void Words::fault(std::string_view key, const std::string& what) const {
  throw Error("the sentence '" + std::string(key) + "' of " + language_ + " " + what);
}

const std::string& Words::text_of(std::string_view key) const {
  const auto found = texts_.find(key);
  if (found == texts_.end()) fault(key, "is not written");
  return found->second;
}

std::vector<std::string> Words::keys() const {
  std::vector<std::string> all;
  for (const auto& [key, text] : texts_) all.push_back(key);
  return all;
}

std::vector<std::string> Words::slots_of(std::string_view key) const {
  const std::set<std::string> names = slots_in(text_of(key));
  return {names.begin(), names.end()};
}

// Filled piece by piece, so that braces in what fills a slot are no slots.
std::string Words::say(std::string_view key, std::initializer_list<Slot> slots) const {
  std::string said;
  std::set<std::string_view> filled;
  const auto fill = [&](std::string_view name) {
    const auto slot = std::find_if(slots.begin(), slots.end(),
                                   [name](const Slot& one) { return one.name == name; });
    if (slot == slots.end()) fault(key, "has no words for {" + std::string(name) + "}");
    said += slot->text;
    filled.insert(name);
  };
  each_piece(
      text_of(key), [&](std::string_view text) { said += text; }, fill);
  if (filled.size() < slots.size()) fault(key, "has no place for all that was said");
  return said;
}

void Words::check_against(const Words& other) const {
  for (const auto& [key, text] : other.texts_) {
    if (slots_in(text_of(key)) != slots_in(text))
      fault(key, "has other slots than that of " + other.language_);
  }
  for (const auto& [key, text] : texts_) {
    if (!other.texts_.contains(key)) fault(key, "is none of " + other.language_);
  }
}

const Words& words_in_use() {
  static const Words english("english", english_words());
  return english;
}

std::string say(std::string_view key, std::initializer_list<Slot> slots) {
  return words_in_use().say(key, slots);
}

}  // namespace aeruca::detail
