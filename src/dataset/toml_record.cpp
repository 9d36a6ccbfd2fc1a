#include "dataset/toml_record.hpp"

#include <toml++/toml.h>
#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/toml_text.hpp"

namespace aeruca::detail {

struct Record::Body {
  const toml::table* table;
};

namespace {

std::string type_word(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::string:
      return "a text";
    case toml::node_type::integer:
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "true or false";
    case toml::node_type::array:
      return "a list";
    case toml::node_type::table:
      return "a table";
    default:
      return "a date or time";
  }
}

long line_number(const toml::node& node) {
  return static_cast<long>(node.source().begin.line);
}

Record make_record(const toml::table& table, const std::string& file, const std::string& kind) {
  return {std::make_unique<Record::Body>(Record::Body{&table}), file, kind};
}

toml::table parse(const std::string& file, std::string_view text) {
  refuse_broken_toml(file, text);
  try {
    return toml::parse(text, file);
  } catch (const toml::parse_error& problem) {
    throw FileError(file, static_cast<long>(problem.source().begin.line), "",
                    "this is not TOML: " + std::string(problem.description()));
  }
}

void read_array(const std::string& file, const std::string& kind, const toml::node& node,
                const std::function<void(const std::string&, Record&)>& read) {
  const toml::array* list = node.as_array();
  if (list == nullptr || !list->is_array_of_tables())
    throw FileError(file, line_number(node), kind,
                    "accepted is a list of records, written [[" + kind + "]]");
  for (const toml::node& element : *list) {
    Record record = make_record(*element.as_table(), file, kind);
    read(kind, record);
    record.finish();
  }
}

}  // namespace

Record::Record(std::unique_ptr<Body> body, std::string file, std::string kind)
    : body_(std::move(body)), file_(std::move(file)), kind_(std::move(kind)), label_(kind_) {}
Record::Record(Record&&) noexcept = default;
Record::~Record() = default;

void Record::call(const std::string& key) {
  label_ = kind_ + " '" + key + "'";
}

long Record::line() const {
  return line_number(*body_->table);
}

long Record::line_of(const char* field) const {
  const toml::node* node = body_->table->get(field);
  return node == nullptr ? line() : line_number(*node);
}

void Record::fail(const char* field, const std::string& problem) const {
  std::string where = field;
  if (!label_.empty()) where += (where.empty() ? "" : " of ") + label_;
  throw FileError(file_, line_of(field), where, problem);
}

// A misspelt field is missing under its right name: say which one was found instead.
void Record::fail_missing(const char* field, const std::string& accepted) const {
  std::vector<std::string> there;
  for (const auto& [key, node] : *body_->table) there.emplace_back(key.str());
  const std::string near = nearest_name(field, there);
  fail(field,
       (near.empty() || near == field ? "is missing or empty"
                                      : "is missing, '" + near + "' was found in its place") +
           ", accepted is " + accepted);
}

bool Record::has(const char* field) const {
  return body_->table->contains(field);
}

std::string Record::text_or(const char* field, std::string fallback) {
  known_.emplace_back(field);
  const toml::node* node = body_->table->get(field);
  if (node == nullptr) return fallback;
  if (!node->is_string()) fail(field, "is " + type_word(*node) + ", accepted is a text in quotes");
  return node->as_string()->get();
}

std::string Record::text(const char* field) {
  std::string value = text_or(field);
  if (value.empty()) fail_missing(field, "a text in quotes");
  return value;
}

double Record::number_or(const char* field, double fallback) {
  known_.emplace_back(field);
  const toml::node* node = body_->table->get(field);
  if (node == nullptr) return fallback;
  if (!node->is_number()) fail(field, "is " + type_word(*node) + ", accepted is a number");
  const double value = *node->value<double>();
  if (!std::isfinite(value))
    fail(field, "is not finite, accepted is a number (leave the field out if not known)");
  return value;
}

double Record::number_or(const char* field) {
  return number_or(field, std::numeric_limits<double>::quiet_NaN());
}

double Record::number(const char* field) {
  const double value = number_or(field);
  if (std::isnan(value)) fail_missing(field, "a number");
  return value;
}

bool Record::flag_or(const char* field, bool fallback) {
  known_.emplace_back(field);
  const toml::node* node = body_->table->get(field);
  if (node == nullptr) return fallback;
  if (!node->is_boolean()) fail(field, "is " + type_word(*node) + ", accepted is true or false");
  return node->as_boolean()->get();
}

std::vector<std::string> Record::texts(const char* field) {
  known_.emplace_back(field);
  const toml::node* node = body_->table->get(field);
  std::vector<std::string> values;
  if (node == nullptr || !node->is_array())
    fail(field, "is missing or no list, accepted is a list of texts");
  for (const toml::node& element : *node->as_array()) {
    if (!element.is_string())
      fail(field, "holds " + type_word(element) + ", accepted are texts in quotes");
    values.push_back(element.as_string()->get());
  }
  return values;
}

std::vector<std::pair<double, double>> Record::pairs(const char* field) {
  known_.emplace_back(field);
  const toml::node* node = body_->table->get(field);
  std::vector<std::pair<double, double>> values;
  if (node == nullptr || !node->is_array())
    fail(field, "is missing or no list, accepted is a list of [number, number]");
  for (const toml::node& element : *node->as_array()) {
    const toml::array* pair = element.as_array();
    if (pair == nullptr || pair->size() != 2 || !(*pair)[0].is_number() || !(*pair)[1].is_number())
      fail(field, "accepted is a list of [number, number]");
    values.emplace_back(*(*pair)[0].value<double>(), *(*pair)[1].value<double>());
    if (!std::isfinite(values.back().first) || !std::isfinite(values.back().second))
      fail(field, "holds a value that is not finite, accepted is a list of [number, number]");
  }
  return values;
}

std::optional<Record> Record::table(const char* field) {
  known_.emplace_back(field);
  const toml::node* node = body_->table->get(field);
  if (node == nullptr) return std::nullopt;
  if (!node->is_table())
    fail(field, "is " + type_word(*node) + ", accepted is a table { value = ..., ... }");
  return make_record(*node->as_table(), file_, std::string(field) + " of " + label_);
}

double Record::within(const char* field, double value, double lowest, double highest) const {
  if (value < lowest || value > highest)
    fail(field, format_number(value) + " is out of range, accepted is " + format_number(lowest) +
                    " to " + format_number(highest));
  return value;
}

void Record::finish() const {
  for (const auto& [key, node] : *body_->table) {
    const std::string name(key.str());
    if (std::find(known_.begin(), known_.end(), name) != known_.end()) continue;
    const std::string near = nearest_name(name, known_);
    throw FileError(file_, line_number(node), name + (label_.empty() ? "" : " of " + label_),
                    "no such field; " + (near.empty() ? "known are " + join(known_, ", ")
                                                      : "nearest is '" + near + "'"));
  }
}

void for_each_record(const std::string& file, std::string_view text,
                     const std::function<void(const std::string&, Record&)>& read,
                     const std::vector<std::string>& kinds) {
  const toml::table document = parse(file, text);
  toml::table top;
  for (const auto& [key, node] : document)
    if (!node.is_array() && !node.is_table()) top.insert(key, node);
  Record head = make_record(top, file, "");
  read("", head);
  head.finish();
  for (const auto& [key, node] : document) {
    const std::string kind(key.str());
    if (!node.is_array() && !node.is_table()) continue;
    if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) {
      const std::string near = nearest_name(kind, kinds);
      throw FileError(file, line_number(node), kind,
                      "no such table; " + (near.empty() ? "known are " + join(kinds, ", ")
                                                        : "nearest is '" + near + "'"));
    }
    read_array(file, kind, node, read);
  }
}

}  // namespace aeruca::detail
