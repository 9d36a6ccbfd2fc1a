#include "dataset/record.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"
#include "base/text.hpp"

namespace aeruca::detail {

namespace {

std::string type_word(const Node& node) {
  switch (node.kind) {
    case Node::Kind::text:
      return "a text";
    case Node::Kind::number:
      return "a number";
    case Node::Kind::flag:
      return "true or false";
    case Node::Kind::list:
      return "a list";
    case Node::Kind::table:
      return "a table";
    case Node::Kind::other:
      break;
  }
  return "a date or time";
}

void check_kind(const std::string& file, const std::string& kind, const Node& node,
                const std::vector<std::string>& kinds) {
  if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) {
    const std::string near = nearest_name(kind, kinds);
    throw FileError(file, node.line, kind,
                    "no such table; " + (near.empty() ? "known are " + join(kinds, ", ")
                                                      : "nearest is '" + near + "'"));
  }
  if (!node.is_list_of_tables())
    throw FileError(file, node.line, kind,
                    "accepted is a list of records, written [[" + kind + "]]");
}

void read_one(const std::string& file, const std::string& kind, const Node& table,
              const RecordReader& read) {
  Record record(table, file, kind);
  read(kind, record);
  record.finish();
}

}  // namespace

Record::Record(const Node& table, std::string file, std::string kind)
    : table_(&table), file_(std::move(file)), kind_(std::move(kind)), label_(kind_) {}

void Record::call(const std::string& key) {
  label_ = kind_ + " '" + key + "'";
}

long Record::line() const {
  return table_->line;
}

long Record::line_of(const char* field) const {
  const Node* node = table_->get(field);
  return node == nullptr ? line() : node->line;
}

void Record::fail(const char* field, const std::string& problem) const {
  std::string where = field;
  if (!label_.empty()) where += (where.empty() ? "" : " of ") + label_;
  throw FileError(file_, line_of(field), where, problem);
}

// A misspelt field is missing under its right name: say which one was found instead.
void Record::fail_missing(const char* field, const std::string& accepted) const {
  const std::vector<std::string> there(table_->keys.begin(), table_->keys.end());
  const std::string near = nearest_name(field, there);
  fail(field,
       (near.empty() || near == field ? "is missing or empty"
                                      : "is missing, '" + near + "' was found in its place") +
           ", accepted is " + accepted);
}

bool Record::has(const char* field) const {
  return table_->get(field) != nullptr;
}

std::string Record::text_or(const char* field, std::string fallback) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  if (node == nullptr) return fallback;
  if (node->kind != Node::Kind::text)
    fail(field, "is " + type_word(*node) + ", accepted is a text in quotes");
  return std::string(node->text);
}

std::string Record::text(const char* field) {
  std::string value = text_or(field);
  if (value.empty()) fail_missing(field, "a text in quotes");
  return value;
}

double Record::number_or(const char* field, double fallback) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  if (node == nullptr) return fallback;
  if (node->kind != Node::Kind::number)
    fail(field, "is " + type_word(*node) + ", accepted is a number");
  const double value = node->number;
  if (!std::isfinite(value))
    fail(field, "is not finite, accepted is a number (leave the field out if not known)");
  return value;
}

double Record::number_or(const char* field) {
  return number_or(field, kNotGiven);
}

double Record::number(const char* field) {
  const double value = number_or(field);
  if (std::isnan(value)) fail_missing(field, "a number");
  return value;
}

bool Record::flag_or(const char* field, bool fallback) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  if (node == nullptr) return fallback;
  if (node->kind != Node::Kind::flag)
    fail(field, "is " + type_word(*node) + ", accepted is true or false");
  return node->number != 0;
}

std::vector<std::string> Record::texts(const char* field) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  std::vector<std::string> values;
  if (node == nullptr || node->kind != Node::Kind::list)
    fail(field, "is missing or no list, accepted is a list of texts");
  for (const Node& element : node->items) {
    if (element.kind != Node::Kind::text)
      fail(field, "holds " + type_word(element) + ", accepted are texts in quotes");
    values.emplace_back(element.text);
  }
  return values;
}

std::vector<double> Record::numbers(const char* field) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  std::vector<double> values;
  if (node == nullptr || node->kind != Node::Kind::list)
    fail(field, "is missing or no list, accepted is a list of numbers");
  for (const Node& element : node->items) {
    if (element.kind != Node::Kind::number || !std::isfinite(element.number))
      fail(field, "holds " + type_word(element) + ", accepted are finite numbers");
    values.push_back(element.number);
  }
  return values;
}

std::vector<std::pair<double, double>> Record::pairs(const char* field) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  std::vector<std::pair<double, double>> values;
  if (node == nullptr || node->kind != Node::Kind::list)
    fail(field, "is missing or no list, accepted is a list of [number, number]");
  for (const Node& element : node->items) {
    if (element.kind != Node::Kind::list || element.items.size() != 2 ||
        element.items[0].kind != Node::Kind::number || element.items[1].kind != Node::Kind::number)
      fail(field, "accepted is a list of [number, number]");
    values.emplace_back(element.items[0].number, element.items[1].number);
    if (!std::isfinite(values.back().first) || !std::isfinite(values.back().second))
      fail(field, "holds a value that is not finite, accepted is a list of [number, number]");
  }
  return values;
}

std::optional<Record> Record::table(const char* field) {
  known_.emplace_back(field);
  const Node* node = table_->get(field);
  if (node == nullptr) return std::nullopt;
  if (node->kind != Node::Kind::table)
    fail(field, "is " + type_word(*node) + ", accepted is a table { value = ..., ... }");
  return Record(*node, file_, std::string(field) + " of " + label_);
}

double Record::within(const char* field, double value, double lowest, double highest) const {
  if (value < lowest || value > highest)
    fail(field, format_number(value) + " is out of range, accepted is " + format_number(lowest) +
                    " to " + format_number(highest));
  return value;
}

void Record::finish() const {
  for (std::size_t i = 0; i < table_->keys.size(); ++i) {
    const std::string_view name = table_->keys[i];
    if (std::find(known_.begin(), known_.end(), name) != known_.end()) continue;
    const std::vector<std::string> known(known_.begin(), known_.end());
    const std::string near = nearest_name(name, known);
    throw FileError(file_, table_->items[i].line,
                    std::string(name) + (label_.empty() ? "" : " of " + label_),
                    "no such field; " + (near.empty() ? "known are " + join(known, ", ")
                                                      : "nearest is '" + near + "'"));
  }
}

void for_each_record(const std::string& file, const Document& document, const RecordReader& read,
                     const std::vector<std::string>& kinds) {
  const auto is_field = [](const Node& node) {
    return node.kind != Node::Kind::list && node.kind != Node::Kind::table;
  };
  const Node& top = document.top;
  Node head;
  head.kind = Node::Kind::table;
  head.line = top.line;
  for (std::size_t i = 0; i < top.items.size(); ++i) {
    if (!is_field(top.items[i])) continue;
    head.keys.push_back(top.keys[i]);
    head.items.push_back(top.items[i]);
  }
  read_one(file, "", head, read);
  for (std::size_t i = 0; i < top.items.size(); ++i) {
    if (is_field(top.items[i])) continue;
    const std::string kind(top.keys[i]);
    check_kind(file, kind, top.items[i], kinds);
    for (const Node& table : top.items[i].items) read_one(file, kind, table, read);
  }
}

}  // namespace aeruca::detail
