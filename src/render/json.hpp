#pragma once

// A described result as JSON. Figures that are not known, and infinite ones, are null.

#include <string>

#include "render/figures.hpp"
#include "render/json_value.hpp"

namespace aeruca::detail {

template <class Value>
Json json_of(const Value& value, const Label& label = {});

template <Described Result>
Json figures_json(const Result& result) {
  Json json = Json::object();
  for_each_figure<Result>([&](const Label& label, auto member) {
    if (!label.apart)
      json[std::string(label.json_key())] = json_of(std::invoke(member, result), label);
  });
  return json;
}

/// A list of results as an object: each under one of its own figures, which it then leaves out.
template <class List>
Json object_of(const List& results) {
  using Result = typename List::value_type;
  const std::string key(Description<Result>::keyed_by);
  Json json = Json::object();
  for (const Result& result : results) {
    Json one = figures_json(result);
    const std::string name = one[key].text();
    one.erase(key);
    json[name] = std::move(one);
  }
  return json;
}

template <class Value>
Json json_of(const Value& value, const Label& label) {
  if constexpr (Listed<Value> && !Mapped<Value>) {
    if constexpr (requires { Description<typename Value::value_type>::keyed_by; }) {
      if (label.keyed) return object_of(value);
    }
  }
  if constexpr (Described<Value>) {
    return is_nothing(value) ? Json(nullptr) : figures_json(value);
  } else if constexpr (std::floating_point<Value>) {
    return number_or_null(value);
  } else if constexpr (std::is_enum_v<Value>) {
    return std::string(to_string(value));
  } else if constexpr (Mapped<Value>) {
    Json json = Json::object();
    for (const auto& [name, one] : value) json[name] = json_of(one, label);
    return json;
  } else if constexpr (Places<Value> && !Listed<Value>) {
    return Json::array({value.x, value.y});
  } else if constexpr (Terms<Value>) {
    Json json = Json::object();
    for (const auto& [name, one] : value) json[name] = json_of(one, label);
    return json;
  } else if constexpr (Listed<Value>) {
    Json json = Json::array();
    for (const auto& one : value) json.push_back(json_of<typename Value::value_type>(one, label));
    return json;
  } else if constexpr (Optional<Value>) {
    return value.has_value() ? json_of(*value, label) : Json(nullptr);
  } else if constexpr (Named<Value>) {
    return Json::array({std::get<0>(value), std::get<1>(value), std::get<2>(value)});
  } else if constexpr (Paired<Value>) {
    return Json::array({json_of(value.first, label), json_of(value.second, label)});
  } else if constexpr (std::integral<Value>) {
    return label.moment ? Json(moment_text(static_cast<std::int64_t>(value))) : Json(value);
  } else {
    return Json(value);
  }
}

/// The version and hash of a data set, as every document ends.
template <class Set>
Json data_set_json(const Set& dataset) {
  return {{"version", dataset.version}, {"content_hash", dataset.content_hash}};
}

}  // namespace aeruca::detail
