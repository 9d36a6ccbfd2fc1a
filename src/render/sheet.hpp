#pragma once

// A described result as rows of text and tables: what `describe()` prints, what an HTML card and a
// CSV file are made of.

#include <string>
#include <vector>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

/// One figure as a reader sees it.
struct SheetRow {
  std::string name;     ///< in Python: "known_hours"
  std::string meaning;  ///< "time that is known"
  std::string value;    ///< with its unit: "8760 h", "not known"
  bool glance = false;
};

/// A list of results of one kind: a row each, a column for each figure.
struct SheetTable {
  std::string title;
  std::vector<std::string> columns;  ///< meaning with unit: "chloride out (mg)"
  std::vector<std::vector<std::string>> rows;
};

/// Everything a result shows.
struct Sheet {
  std::vector<SheetRow> rows;
  std::vector<SheetTable> tables;
};

inline constexpr std::size_t kListedInText = 6;  ///< values of a list written out in a row

/// "8760 h"; what is not known has no unit.
std::string with_unit(std::string value, std::string_view unit);

template <class Value>
std::string text_of(const Value& value, const Label& label);

/// A result as a line: its own words, or its figures in a row.
template <Described Result>
std::string line_of(const Result& result, const Label& label) {
  using About = Description<Result>;
  if (is_nothing(result)) return "none";
  if constexpr (requires { About::said(result, label); }) {
    return About::said(result, label);
  } else if constexpr (requires { About::said(result); }) {
    return About::said(result);
  } else {
    std::vector<std::string> parts;
    for_each_figure<Result>([&](const Label& each, auto member) {
      if (each.apart) return;
      parts.push_back(std::string(each.meaning) + " " + text_of(std::invoke(member, result), each));
    });
    return join(parts, ", ");
  }
}

template <class List>
std::string list_text(const List& values, const Label& label) {
  std::vector<std::string> parts;
  for (const auto& value : values) {
    if (parts.size() == kListedInText) {
      parts.push_back("... (" + std::to_string(values.size()) + " in all)");
      break;
    }
    parts.push_back(text_of<typename List::value_type>(value, label));
  }
  return parts.empty() ? "none" : join(parts, ", ");
}

/// A figure with its unit.
template <class Value>
std::string text_of(const Value& value, const Label& label) {
  if constexpr (Described<Value>) {
    return line_of(value, label);
  } else if constexpr (std::same_as<Value, bool>) {
    return value ? "yes" : "no";
  } else if constexpr (std::floating_point<Value>) {
    return label.chance ? probability_text(value)
                        : with_unit(format_number(value, label.digits), label.unit);
  } else if constexpr (std::integral<Value>) {
    return label.moment ? moment_text(static_cast<std::int64_t>(value))
                        : with_unit(std::to_string(value), label.unit);
  } else if constexpr (std::is_enum_v<Value>) {
    return std::string(to_string(value));
  } else if constexpr (Places<Value> && !Listed<Value>) {
    return "(" + format_number(value.x, label.digits) + ", " +
           format_number(value.y, label.digits) + ")";
  } else if constexpr (Listed<Value>) {
    return list_text(value, label);
  } else if constexpr (Optional<Value>) {
    return value.has_value() ? text_of(*value, label) : "none";
  } else if constexpr (Named<Value>) {
    return std::get<0>(value) + " from " + format_number(std::get<1>(value), label.digits) +
           " to " + format_number(std::get<2>(value), label.digits);
  } else if constexpr (Paired<Value>) {
    return text_of(value.first, label) + " " + text_of(value.second, label);
  } else {
    return std::string(value);
  }
}

/// A list of results as a table.
template <Described Result, class List>
SheetTable table_of(const List& results, std::string_view title) {
  SheetTable table{std::string(title), {"no."}, {}};
  for_each_figure<Result>([&](const Label& label, auto) {
    if (!label.apart)
      table.columns.push_back(std::string(label.meaning) +
                              (label.unit.empty() ? "" : " (" + std::string(label.unit) + ")"));
  });
  for (const Result& result : results) {
    std::vector<std::string> row{std::to_string(table.rows.size() + 1)};
    for_each_figure<Result>([&](Label label, auto member) {
      if (label.apart) return;
      label.unit = {};  // it stands in the head
      row.push_back(text_of(std::invoke(member, result), label));
    });
    table.rows.push_back(std::move(row));
  }
  return table;
}

template <Described Result>
Sheet sheet_of(const Result& result) {
  Sheet sheet;
  for_each_figure<Result>([&](const Label& label, auto member) {
    if (label.apart) return;
    decltype(auto) value = std::invoke(member, result);
    using Value = Figured<Result, decltype(member)>;
    if constexpr (Listed<Value>) {
      if constexpr (Described<typename Value::value_type>) {
        sheet.tables.push_back(table_of<typename Value::value_type>(value, label.meaning));
        return;
      }
    }
    sheet.rows.push_back(
        {std::string(label.name), std::string(label.meaning), text_of(value, label), label.glance});
  });
  return sheet;
}

/// The sheet as plain text: name, value, meaning; tables below.
std::string sheet_text(const Sheet& sheet);

}  // namespace aeruca::detail
