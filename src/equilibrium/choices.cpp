// The choices of a system as words.

#include <array>

#include "aeruca/equilibrium.hpp"
#include "base/choice.hpp"

namespace aeruca {

namespace {

constexpr std::array<std::string_view, 3> kRedox = {"eh", "oxygen", "conserved"};
constexpr std::array<std::string_view, 2> kAcidity = {"given_ph", "charge_balance"};
constexpr std::array<std::string_view, 2> kPrecipitation = {"none", "allowed"};
constexpr std::array<std::string_view, 2> kSolvent = {"one_kg", "water_activity"};
constexpr std::array<std::string_view, 2> kStarts = {"as_needed", "several"};

}  // namespace

std::string_view to_string(Redox redox) {
  return kRedox[static_cast<std::size_t>(redox)];
}
std::string_view to_string(Acidity acidity) {
  return kAcidity[static_cast<std::size_t>(acidity)];
}
std::string_view to_string(Precipitation precipitation) {
  return kPrecipitation[static_cast<std::size_t>(precipitation)];
}
std::string_view to_string(Solvent solvent) {
  return kSolvent[static_cast<std::size_t>(solvent)];
}
std::string_view to_string(Starts starts) {
  return kStarts[static_cast<std::size_t>(starts)];
}
Redox redox_from(std::string_view name) {
  return detail::choice_from<Redox>(kRedox, "redox", name);
}
Acidity acidity_from(std::string_view name) {
  return detail::choice_from<Acidity>(kAcidity, "acidity", name);
}
Precipitation precipitation_from(std::string_view name) {
  return detail::choice_from<Precipitation>(kPrecipitation, "precipitation", name);
}
Solvent solvent_from(std::string_view name) {
  return detail::choice_from<Solvent>(kSolvent, "solvent", name);
}
Starts starts_from(std::string_view name) {
  return detail::choice_from<Starts>(kStarts, "starts", name);
}

}  // namespace aeruca
