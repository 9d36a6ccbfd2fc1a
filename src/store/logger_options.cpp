#include <array>

#include "aeruca/logger.hpp"
#include "base/choice.hpp"

namespace aeruca {
namespace {

constexpr std::array<std::string_view, 3> kDateOrders{"from_file", "day_first", "month_first"};
constexpr std::array<std::string_view, 3> kRhUnits{"from_file", "percent", "fraction"};
constexpr std::array<std::string_view, 3> kTemperatureUnits{"from_file", "celsius", "fahrenheit"};
constexpr std::array<std::string_view, 2> kFutureTimes{"ask", "accept"};

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
  return detail::choice_from<DateOrder>(kDateOrders, "date_order", word);
}
RhUnit rh_unit(std::string_view word) {
  return detail::choice_from<RhUnit>(kRhUnits, "rh_unit", word);
}
TemperatureUnit temperature_unit(std::string_view word) {
  return detail::choice_from<TemperatureUnit>(kTemperatureUnits, "temperature_unit", word);
}
FutureTimes future_times(std::string_view word) {
  return detail::choice_from<FutureTimes>(kFutureTimes, "future_times", word);
}

}  // namespace aeruca
