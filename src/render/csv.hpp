#pragma once

// A list of described results as CSV: a row each, columns by name, every digit kept. What is not
// known is an empty cell.

#include <array>
#include <charconv>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/errors.hpp"
#include "render/figures.hpp"
#include "render/sheet.hpp"

namespace aeruca::detail {

/// In quotes where the text needs them (RFC 4180).
std::string csv_cell(std::string_view text);

template <class Value>
std::string csv_value(const Value& value, const Label& label) {
  if constexpr (std::floating_point<Value>) {
    if (!std::isfinite(value)) return "";
    std::array<char, 32> buffer{};
    return {buffer.data(), std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr};
  } else if constexpr (Optional<Value>) {
    return value.has_value() ? csv_value(*value, label) : "";
  } else {
    return csv_cell(text_of(value, label));
  }
}

template <Described Result>
std::string csv_of(const std::vector<Result>& results) {
  std::vector<std::string> cells;
  for_each_figure<Result>([&](const Label& label, auto) {
    // A moment is written as date and time, not in seconds.
    if (!label.apart) cells.emplace_back(label.moment ? label.json_key() : label.name);
  });
  std::string text = join(cells, ",") + "\n";
  for (const Result& result : results) {
    cells.clear();
    for_each_figure<Result>([&](Label label, auto member) {
      label.unit = {};  // it stands in the name
      if (!label.apart) cells.push_back(csv_value(std::invoke(member, result), label));
    });
    text += join(cells, ",") + "\n";
  }
  return text;
}

/// True where a result holds lists of others, as a store holds its months.
template <Described Result>
bool has_lists() {
  bool found = false;
  for_each_figure<Result>([&found](const Label&, auto member) {
    using Value = Figured<Result, decltype(member)>;
    if constexpr (Listed<Value>) found = found || Described<typename Value::value_type>;
  });
  return found;
}

/// The list of that name in a result, such as "months", as CSV; of a result with one list, also
/// without its name. Throws UnknownName for another.
template <Described Result>
std::string list_csv(const Result& result, std::string_view name) {
  std::string text;
  std::vector<std::string> lists;
  for_each_figure<Result>([&](const Label& label, auto member) {
    using Value = Figured<Result, decltype(member)>;
    if constexpr (Listed<Value>) {
      if constexpr (Described<typename Value::value_type>) lists.emplace_back(label.name);
    }
  });
  if (name.empty() && lists.size() == 1) name = lists.front();
  for_each_figure<Result>([&](const Label& label, auto member) {
    using Value = Figured<Result, decltype(member)>;
    if constexpr (Listed<Value>) {
      if constexpr (Described<typename Value::value_type>) {
        if (label.name == name) text = csv_of(std::invoke(member, result));
      }
    }
  });
  if (text.empty()) throw UnknownName("list", std::string(name), nearest_name(name, lists));
  return text;
}

}  // namespace aeruca::detail
