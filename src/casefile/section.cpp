#include "casefile/section.hpp"

#include <algorithm>
#include <sstream>
#include <utility>

#include "base/calendar.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

long line_at(const toml::source_region& region) {
  return static_cast<long>(region.begin.line);
}

std::string as_written(const toml::node& node) {
  if (const auto* text = node.as_string()) return "'" + text->get() + "'";
  std::ostringstream out;
  node.visit([&out](const auto& value) { out << value; });
  std::string written = out.str();
  std::replace(written.begin(), written.end(), '\n', ' ');
  return written;
}

std::string in_words(Limits accepted) {
  return "a number from " + format_number(accepted.low, 12) + " to " +
         format_number(accepted.high, 12);
}

std::string not_a_word(const std::string& word, std::span<const std::string> words) {
  std::string problem = "'" + word + "' is not known";
  const std::string nearest = nearest_name(word, words);
  if (!nearest.empty()) problem += "; nearest is '" + nearest + "'";
  return problem + "; accepted is one of " + join(words, ", ");
}

}  // namespace

Section::Section(const toml::table& table, std::string name, CaseFile& file)
    : table_(table), name_(std::move(name)), file_(file) {}

std::string Section::full_name(std::string_view key) const {
  return name_.empty() ? std::string(key) : name_ + "." + std::string(key);
}

const toml::node* Section::find(std::string_view key) {
  known_.emplace_back(key);
  const toml::node* node = table_.get(key);
  if (node != nullptr) file_.lines[full_name(key)] = line_at(node->source());
  return node;
}

void Section::refuse(std::string_view key, const std::string& problem) const {
  throw file_.fault(full_name(key), problem);
}

double Section::checked(std::string_view key, double value, Limits accepted) const {
  if (value >= accepted.low && value <= accepted.high) return value;
  const std::string written = std::isnan(value) ? "nan" : format_number(value);
  refuse(key, written + " is out of range; accepted is " + in_words(accepted));
}

double Section::number(std::string_view key, Limits accepted, double fallback) {
  const toml::node* node = find(key);
  if (node == nullptr) return fallback;
  if (!node->is_number()) {
    refuse(key, as_written(*node) + " is no number; accepted is " + in_words(accepted) +
                    ", without quotes");
  }
  return checked(key, *node->value<double>(), accepted);
}

std::vector<double> Section::numbers(std::string_view key, Limits accepted) {
  const toml::node* node = find(key);
  if (node == nullptr) return {};
  const toml::array* list = node->as_array();
  if (list == nullptr)
    refuse(key, as_written(*node) + " is no list; accepted is a list such as [20, 40]");
  std::vector<double> numbers;
  for (const toml::node& item : *list) {
    if (!item.is_number()) {
      refuse(key, as_written(item) + " in the list is no number; accepted is " +
                      in_words(accepted) + ", without quotes");
    }
    numbers.push_back(checked(key, *item.value<double>(), accepted));
  }
  return numbers;
}

Reading Section::reading(std::string_view key, Limits accepted) {
  const toml::node* node = find(key);
  if (node == nullptr) return {};
  Reading reading;
  if (node->is_number()) {
    reading.value = checked(key, *node->value<double>(), accepted);
    return reading;
  }
  const auto parsed = node->is_string() ? parse_reading(node->as_string()->get()) : std::nullopt;
  if (!parsed) {
    refuse(
        key,
        as_written(*node) +
            R"( is no reading; accepted is a number such as 640, "640 +/- 30", or "< 5" for below the detection limit)");
  }
  static_cast<void>(checked(key, parsed->detected() ? parsed->value : parsed->below, accepted));
  return *parsed;
}

bool Section::flag(std::string_view key) {
  const toml::node* node = find(key);
  if (node == nullptr) return false;
  if (!node->is_boolean()) {
    refuse(key,
           as_written(*node) + " is neither yes nor no; accepted is true or false, without quotes");
  }
  return node->as_boolean()->get();
}

std::string Section::text(std::string_view key) {
  const toml::node* node = find(key);
  if (node == nullptr) return {};
  if (!node->is_string()) {
    refuse(key, as_written(*node) + " is no text; accepted is text in double quotes");
  }
  return std::string(trim(node->as_string()->get()));
}

std::string Section::date(std::string_view key) {
  const toml::node* node = find(key);
  if (node == nullptr) return {};
  std::string written = node->is_string() ? node->as_string()->get() : as_written(*node);
  if (!parse_date(written)) {
    refuse(key, as_written(*node) + " is no date; accepted is year-month-day such as 2026-03-04");
  }
  return written;
}

std::string Section::choice(std::string_view key, std::span<const std::string> words,
                            std::string fallback) {
  std::string word = text(key);
  if (word.empty()) return fallback;
  if (std::find(words.begin(), words.end(), word) == words.end())
    refuse(key, not_a_word(word, words));
  return word;
}

std::vector<std::string> Section::text_or_texts(std::string_view key) {
  const toml::node* node = find(key);
  if (node != nullptr && node->is_array()) return texts(key);
  const std::string one = text(key);
  return one.empty() ? std::vector<std::string>{} : std::vector<std::string>{one};
}

std::vector<std::string> Section::texts(std::string_view key) {
  const toml::node* node = find(key);
  if (node == nullptr) return {};
  const toml::array* list = node->as_array();
  if (list == nullptr) {
    refuse(key, as_written(*node) + R"( is no list; accepted is a list such as ["one", "two"])");
  }
  std::vector<std::string> texts;
  for (const toml::node& item : *list) {
    if (!item.is_string()) {
      refuse(key, as_written(item) + " in the list is no text; accepted is text in double quotes");
    }
    texts.emplace_back(trim(item.as_string()->get()));
  }
  return texts;
}

std::vector<std::string> Section::choices(std::string_view key,
                                          std::span<const std::string> words) {
  std::vector<std::string> chosen = texts(key);
  for (const std::string& word : chosen) {
    if (std::find(words.begin(), words.end(), word) == words.end())
      refuse(key, not_a_word(word, words));
  }
  return chosen;
}

const toml::table* Section::table(std::string_view key) {
  const toml::node* node = find(key);
  if (node == nullptr) return nullptr;
  if (!node->is_table()) {
    refuse(key, as_written(*node) + " is no section; accepted is a line [" + full_name(key) +
                    "] with keys below it");
  }
  return node->as_table();
}

std::vector<const toml::table*> Section::tables(std::string_view key) {
  const toml::node* node = find(key);
  if (node == nullptr) return {};
  if (node->is_table()) return {node->as_table()};
  std::vector<const toml::table*> all;
  const toml::array* list = node->as_array();
  if (list != nullptr && list->is_homogeneous(toml::node_type::table)) {
    for (const toml::node& item : *list) all.push_back(item.as_table());
    return all;
  }
  refuse(key, as_written(*node) + " is no section; accepted are lines [[" + full_name(key) +
                  "]] with keys below them");
}

std::vector<std::string> Section::keys_not_asked() const {
  std::vector<std::string> keys;
  for (const auto& [key, node] : table_) {
    if (std::find(known_.begin(), known_.end(), key.str()) == known_.end())
      keys.emplace_back(key.str());
  }
  return keys;
}

void Section::finish() const {
  for (const auto& [key, node] : table_) {
    const std::string name(key.str());
    if (std::find(known_.begin(), known_.end(), name) != known_.end()) continue;
    std::string problem = "no key named '" + name + "'";
    const std::string nearest = nearest_name(name, known_);
    if (!nearest.empty()) problem += "; nearest is '" + nearest + "'";
    problem += "; accepted are " + join(known_, ", ");
    file_.lines[full_name(name)] = line_at(key.source());
    throw file_.fault(full_name(name), problem);
  }
}

}  // namespace aeruca::detail
