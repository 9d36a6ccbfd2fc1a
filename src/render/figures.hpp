#pragma once

// How a result is described: once, in a `Description` of its type, figure by figure. Text, JSON,
// the Python class, the HTML card and CSV rows all follow from it.
//
//   template <>
//   struct Description<Spell> {
//     static constexpr std::string_view name = "Spell";
//     static constexpr std::string_view meaning = "Readings in a row above a limit.";
//     template <class Take>
//     static void figures(Take take) {
//       take("hours", &Spell::hours, "h", "how long it lasted", digits(4));
//       take("start_s", &Spell::start_s, "", "its first reading", moment, key("start"));
//     }
//   };
//
// A figure is a member, or a function of the result where a reader wants something else than the
// member. Besides figures a description may have
//   said(result), or said(result, label) for one that is a figure of another: a line of text;
//   nothing(result): true where there is none (null in JSON, "none" in text);
//   keyed_by: the figure, words, under which a `keyed` list of such results has each in JSON.

#include <cmath>
#include <concepts>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <vector>

namespace aeruca::detail {

/// What is said of one figure of a result.
struct Label {
  std::string_view name;      ///< in C++ and Python: "known_hours"
  std::string_view unit;      ///< "h", "% RH", "mg/L"; empty for words, counts and pure numbers
  std::string_view meaning;   ///< a few words: "time that is known"
  int digits = 4;             ///< significant figures that carry
  std::string_view key = {};  ///< in JSON, where that is not the name
  bool glance = false;        ///< shown first
  bool chance = false;        ///< a probability, never shown as certainty
  bool moment = false;        ///< seconds since 1970-01-01T00:00:00, written as a date and time
  bool apart = false;         ///< has a form of its own in JSON and cards, or none there; numbers
                              ///< are an array in Python
  bool keyed = false;         ///< a list that JSON writes as an object, by `keyed_by`

  [[nodiscard]] std::string_view json_key() const { return key.empty() ? name : key; }
};

// What may follow the meaning of a figure.
constexpr auto digits(int count) {
  return [count](Label& label) { label.digits = count; };
}
constexpr auto key(std::string_view name) {
  return [name](Label& label) { label.key = name; };
}
constexpr void at_a_glance(Label& label) {
  label.glance = true;
}
constexpr void chance(Label& label) {
  label.chance = true;
}
constexpr void moment(Label& label) {
  label.moment = true;
}
constexpr void apart(Label& label) {
  label.apart = true;
}
constexpr void keyed(Label& label) {
  label.keyed = true;
}

/// A figure that is not known, NaN in C++, as None and null.
template <auto Member>
constexpr auto known() {
  return [](const auto& result) -> std::optional<double> {
    const double value = std::invoke(Member, result);
    return std::isnan(value) ? std::nullopt : std::optional<double>(value);
  };
}

/// Seconds since 1970-01-01T00:00:00 as a date and time.
[[nodiscard]] std::string moment_text(std::int64_t time_s);

/// The figures of a result, in the order a reader wants them; one specialisation for each type.
template <class Result>
struct Description;

template <class Result>
concept Described = requires {
  { Description<Result>::name } -> std::convertible_to<std::string_view>;
};

/// Calls visit(label, member) for each figure of a result.
template <Described Result, class Visit>
void for_each_figure(Visit visit) {
  Description<Result>::figures([&visit](std::string_view name, auto member, std::string_view unit,
                                        std::string_view meaning, auto... more) {
    Label label{.name = name, .unit = unit, .meaning = meaning};
    (more(label), ...);
    visit(static_cast<const Label&>(label), member);
  });
}

/// Type of a figure, by its member or function.
template <class Result, class Member>
using Figured = std::remove_cvref_t<std::invoke_result_t<Member, const Result&>>;

/// True where a result has nothing to show, such as a spell of no length.
template <Described Result>
bool is_nothing(const Result& result) {
  if constexpr (requires { Description<Result>::nothing(result); })
    return Description<Result>::nothing(result);
  else
    return false;
}

// Kinds of value that a figure may be.
template <class Value>
concept Listed = requires(const Value& value) {
  typename Value::value_type;
  value.begin();
  value.size();
}
&&!std::convertible_to<Value, std::string_view>;
template <class Value>
concept Mapped = Listed<Value> && requires {
  typename Value::mapped_type;
};
template <class Value>
concept Optional = requires(const Value& value) {
  value.has_value();
  *value;
};
/// A figure for each name, in an order that means something.
template <class Value>
concept Terms = Listed<Value> && requires(const Value& value) {
  { value.begin()->first } -> std::convertible_to<std::string_view>;
  { value.begin()->second } -> std::convertible_to<double>;
};
/// A place in a plane, (x, y), and lists and lists of lists of them.
template <class Value>
    struct IsPlaces : std::bool_constant < requires(const Value& value) {
  value.x;
  value.y;
} > {};
template <class Value>
struct IsPlaces<std::vector<Value>> : IsPlaces<Value> {};
template <class Value>
concept Places = IsPlaces<Value>::value;
/// A name with a range.
template <class Value>
concept Named = std::same_as<Value, std::tuple<std::string, double, double>>;
template <class Value>
concept Paired = requires(const Value& value) {
  value.first;
  value.second;
};

}  // namespace aeruca::detail
