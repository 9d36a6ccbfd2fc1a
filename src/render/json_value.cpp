#include "render/json_value.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace aeruca::detail {

// As the library that writes it holds it.
struct JsonWriter {
  using Document = nlohmann::ordered_json;

  static Document document(const Json& json) { return std::visit(JsonWriter{}, json.value_); }

  template <class Plain>
  Document operator()(const Plain& value) const {
    return value;
  }
  Document operator()(const Json::Items& items) const {
    Document array = Document::array();
    for (const Json& item : items) array.push_back(document(item));
    return array;
  }
  Document operator()(const Json::Members& members) const {
    Document object = Document::object();
    // Keys differ already: no second look for each.
    auto& to = object.get_ref<Document::object_t&>();
    for (const auto& [key, value] : members) to.push_back({key, document(value)});
    return object;
  }
};

namespace {

template <class Members>
auto find(Members& members, std::string_view key) {
  return std::find_if(members.begin(), members.end(),
                      [key](const auto& member) { return member.first == key; });
}

}  // namespace

Json::Json(const std::vector<std::string>& texts) : value_(Items(texts.begin(), texts.end())) {}
Json::Json(const std::map<std::string, double>& numbers)
    : value_(Members(numbers.begin(), numbers.end())) {}
Json::Json(const std::map<std::string, std::string>& texts)
    : value_(Members(texts.begin(), texts.end())) {}

Json::Json(std::initializer_list<Json> items) : Json(array(items)) {
  if (!std::all_of(items.begin(), items.end(), [](const Json& item) { return item.is_member(); }))
    return;
  Members members;
  for (const Json& item : items) {
    const auto& pair = std::get<Items>(item.value_);
    members.emplace_back(std::get<std::string>(pair[0].value_), pair[1]);
  }
  value_ = std::move(members);
}

bool Json::is_member() const {
  const auto* pair = std::get_if<Items>(&value_);
  return pair != nullptr && pair->size() == 2 &&
         std::holds_alternative<std::string>(pair->front().value_);
}

Json Json::object() {
  Json json;
  json.value_ = Members{};
  return json;
}

Json Json::array(std::initializer_list<Json> items) {
  Json json;
  json.value_ = Items(items);
  return json;
}

Json& Json::operator[](std::string_view key) {
  if (std::holds_alternative<std::nullptr_t>(value_)) value_ = Members{};
  auto& members = std::get<Members>(value_);
  const auto found = find(members, key);
  return found == members.end() ? members.emplace_back(key, nullptr).second : found->second;
}

Json& Json::operator[](std::size_t index) {
  return std::get<Items>(value_).at(index);
}

Json& Json::back() {
  return std::get<Items>(value_).back();
}

void Json::push_back(Json item) {
  if (std::holds_alternative<std::nullptr_t>(value_)) value_ = Items{};
  std::get<Items>(value_).push_back(std::move(item));
}

void Json::update(const Json& other) {
  for (const auto& [key, value] : std::get<Members>(other.value_)) (*this)[key] = value;
}

void Json::erase(std::string_view key) {
  auto& members = std::get<Members>(value_);
  const auto found = find(members, key);
  if (found != members.end()) members.erase(found);
}

const std::string& Json::text() const {
  return std::get<std::string>(value_);
}

bool Json::empty() const {
  if (const auto* items = std::get_if<Items>(&value_)) return items->empty();
  if (const auto* members = std::get_if<Members>(&value_)) return members->empty();
  return std::holds_alternative<std::nullptr_t>(value_);
}

Json number_or_null(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

std::string document_text(const Json& document) {
  using Writer = JsonWriter::Document;
  return JsonWriter::document(document).dump(2, ' ', false, Writer::error_handler_t::replace) +
         "\n";
}

}  // namespace aeruca::detail
