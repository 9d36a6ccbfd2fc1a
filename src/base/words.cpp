#include "base/words.hpp"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <set>
#include <system_error>
#include <utility>

#include "aeruca/errors.hpp"
#include "aeruca/words.hpp"
#include "base/embedded_words.hpp"
#include "base/localised.hpp"
#include "base/printable.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace detail {
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

// What stands between the quotes at the head of `rest`, and `rest` behind them; false without.
bool take_quoted(std::string_view& rest, std::string& text) {
  if (!rest.starts_with('"')) return false;
  std::size_t at = 1;
  for (; at < rest.size() && rest[at] != '"'; ++at) {
    if (rest[at] == '\\' && ++at == rest.size()) return false;
    text += rest[at];
  }
  if (at >= rest.size()) return false;
  rest.remove_prefix(at + 1);
  return true;
}

// What the innermost Speaking of this thread set; null: English.
thread_local std::shared_ptr<const Words> spoken;

}  // namespace

Words::Words(std::string language, std::string_view text) : language_(std::move(language)) {
  std::size_t number = 0;
  for (const std::string_view line : split(text, '\n')) read_line(trim(line), ++number);
}

void Words::read_line(std::string_view line, std::size_t number) {
  if (line.empty() || line.front() == '#') return;
  std::string key;
  if (!take_quoted(line, key) || !(line = trim(line)).starts_with('='))
    throw Error(language_ + ", line " + std::to_string(number) + ": is no sentence; accepted is " +
                R"("its.key" = "its text")");
  line = trim(line.substr(1));
  std::string text;
  if (!take_quoted(line, text) || !(line.empty() || line.front() == '#')) fault(key, "is no text");
  if (std::count(text.begin(), text.end(), '{') != std::count(text.begin(), text.end(), '}'))
    fault(key, "has a slot that is not closed");
  if (!texts_.emplace(key, std::move(text)).second) fault(key, "is written twice");
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
std::string Words::say(std::string_view key, std::span<const Slot> slots) const {
  std::string said;
  std::uint64_t filled = 0;  // a bit for each slot
  const auto fill = [&](std::string_view name) {
    const auto slot = std::find_if(slots.begin(), slots.end(),
                                   [name](const Slot& one) { return one.name == name; });
    if (slot == slots.end()) fault(key, "has no words for {" + std::string(name) + "}");
    said += name == "file" ? slot->text : localised(slot->text, *this);
    filled |= std::uint64_t{1} << (slot - slots.begin());
  };
  each_piece(
      text_of(key), [&](std::string_view text) { said += text; }, fill);
  if (filled + 1 != std::uint64_t{1} << slots.size())
    fault(key, "has no place for all that was said");
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

namespace {

const Words& english() {
  static const Words words("english", english_words());
  return words;
}

std::shared_ptr<const Words> language_named(const std::string& name) {
  for (const EmbeddedLanguage& one : embedded_languages()) {
    if (one.name == name) return std::make_shared<const Words>(name, one.text);
  }
  // A bare word that is no file was meant as the name of a language.
  std::error_code problem;
  if (name.find_first_of("./\\") == std::string::npos && !std::filesystem::exists(name, problem)) {
    const std::string nearest = nearest_name(name, languages());
    throw Error("no language named '" + in_a_message(name) + "'" +
                (nearest.empty() ? "" : "; nearest is '" + nearest + "'") + "; accepted are " +
                join(languages(), ", ") + ", or a file with every sentence of English");
  }
  return std::make_shared<const Words>(name, read_file(name));
}

}  // namespace

const Words& words_in_use() {
  return spoken ? *spoken : english();
}

std::shared_ptr<const Words> words_of_this_thread() {
  return spoken;
}

std::string say(std::string_view key, std::initializer_list<Slot> slots) {
  return words_in_use().say(key, slots);
}

std::string choice_word(std::string_view group, std::string_view choice) {
  std::string key = std::string(group) + "." + std::string(choice);
  std::replace(key.begin(), key.end(), ' ', '_');
  return say(key);
}

}  // namespace detail

Speaking::Speaking(const std::string& language) {
  auto words = detail::language_named(language);
  words->check_against(detail::english());
  before_ = std::exchange(detail::spoken, std::move(words));
}

Speaking::Speaking(std::shared_ptr<const detail::Words> words)
    : before_(std::exchange(detail::spoken, std::move(words))) {}

Speaking::~Speaking() {
  detail::spoken = std::move(before_);
}

std::vector<std::string> languages() {
  std::vector<std::string> names;
  for (const detail::EmbeddedLanguage& one : detail::embedded_languages())
    names.emplace_back(one.name);
  return names;
}

std::string_view english_words() {
  const auto all = detail::embedded_languages();
  return std::find_if(all.begin(), all.end(), [](const auto& one) { return one.name == "english"; })
      ->text;
}

}  // namespace aeruca
