#pragma once

// A JSON document while it is put together: keys stay in the order they were written. It becomes
// text in json_value.cpp, the one place that knows the library that writes it.

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace aeruca::detail {

class Json {
 public:
  Json() = default;
  Json(std::nullptr_t) {}
  Json(const char* text) : Json(std::string_view(text)) {}
  Json(std::string_view text) : value_(std::string(text)) {}
  Json(std::string text) : value_(std::move(text)) {}
  template <class Number>
  requires std::is_arithmetic_v<Number> Json(Number number) : value_(widest(number)) {}
  Json(const std::vector<std::string>& texts);
  Json(const std::map<std::string, double>& numbers);
  Json(const std::map<std::string, std::string>& texts);
  /// An object when every item is a pair that begins with a text, as {{"ph", 7}, {"eh_v", 0.4}};
  /// otherwise an array.
  Json(std::initializer_list<Json> items);

  [[nodiscard]] static Json object();
  [[nodiscard]] static Json array(std::initializer_list<Json> items = {});

  /// The value of a key, added as null when it is not there; of an object, or of null, which
  /// becomes one.
  Json& operator[](std::string_view key);
  /// An item of an array.
  Json& operator[](std::size_t index);
  /// The last item of an array.
  Json& back();
  /// To an array, or to null, which becomes one.
  void push_back(Json item);
  /// Takes over the keys of another object.
  void update(const Json& other);
  void erase(std::string_view key);
  /// What a text holds.
  [[nodiscard]] const std::string& text() const;
  /// True for null, and for an object or array without anything in it.
  [[nodiscard]] bool empty() const;

 private:
  using Items = std::vector<Json>;
  using Members = std::vector<std::pair<std::string, Json>>;
  using Value = std::variant<std::nullptr_t, bool, std::int64_t, std::uint64_t, double, std::string,
                             Items, Members>;

  template <class Number>
  static Value widest(Number number) {
    if constexpr (std::same_as<Number, bool>)
      return number;
    else if constexpr (std::floating_point<Number>)
      return static_cast<double>(number);
    else if constexpr (std::signed_integral<Number>)
      return static_cast<std::int64_t>(number);
    else
      return static_cast<std::uint64_t>(number);
  }
  [[nodiscard]] bool is_member() const;

  friend struct JsonWriter;
  Value value_;
};

/// null for what is not known, not given or endless: JSON has neither NaN nor infinity.
[[nodiscard]] Json number_or_null(double value);

/// A document as text. A file name or field need not be valid UTF-8; what is not is replaced.
[[nodiscard]] std::string document_text(const Json& document);

}  // namespace aeruca::detail
