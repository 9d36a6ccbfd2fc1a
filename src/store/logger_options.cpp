#include <array>
#include <string>

#include "aeruca/errors.hpp"
#include "aeruca/logger.hpp"

namespace aeruca {
namespace {

constexpr std::array<std::string_view, 3> kDateOrders{"from_file", "day_first", "month_first"};
constexpr std::array<std::string_view, 3> kRhUnits{"from_file", "percent", "fraction"};
constexpr std::array<std::string_view, 3> kTemperatureUnits{"from_file", "celsius", "fahrenheit"};
constexpr std::array<std::string_view, 2> kFutureTimes{"ask", "accept"};

template <class Choice, std::size_t N>
Choice choice_of(const std::array<std::string_view, N>& names, std::string_view word,
                 const char* option) {
  std::string accepted;
  for (std::size_t i = 0; i < N; ++i) {
    if (names[i] == word) return static_cast<Choice>(i);
    accepted += (i == 0 ? "" : i + 1 == N ? " or " : ", ") + std::string(names[i]);
  }
  throw InputError(option, std::string(word), accepted);
}

}  // namespace

std::string_view to_string(DateOrder order) {
  return kDateOrders[static_cast<std::size_t>(order)];
}
std::string_view to_string(RhUnit unit) {
  return kRhUnits[static_cast<std::size_t>(unit)];
}
std::string_view to_string(TemperatureUnit unit) {
  return kTemperatureUnits[static_cast<std::size_t>(unit)];
}
std::string_view to_string(FutureTimes times) {
  return kFutureTimes[static_cast<std::size_t>(times)];
}

DateOrder date_order(std::string_view word) {
  return choice_of<DateOrder>(kDateOrders, word, "date_order");
}
RhUnit rh_unit(std::string_view word) {
  return choice_of<RhUnit>(kRhUnits, word, "rh_unit");
}
TemperatureUnit temperature_unit(std::string_view word) {
  return choice_of<TemperatureUnit>(kTemperatureUnits, word, "temperature_unit");
}
FutureTimes future_times(std::string_view word) {
  return choice_of<FutureTimes>(kFutureTimes, word, "future_times");
}

}  // namespace aeruca
