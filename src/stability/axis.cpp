#include <algorithm>

#include "base/text.hpp"
#include "base/words.hpp"
#include "stability/system.hpp"

namespace aeruca {

namespace {

// No species is called ph or eh, so capitals need not be right.
bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char p, char q) { return (p | 0x20) == (q | 0x20); });
}

constexpr std::string_view kDissolved = "dissolved ";

std::string activity_of(const std::string& name) {
  const bool gas = name.size() > 3 && name.ends_with("(g)");
  return (gas ? "log10 f(" : "log10 a(") + name + ")";
}

}  // namespace

Axis axis_from(std::string_view text, double low, double high) {
  const std::string name(detail::trim(text));
  if (name.empty())
    throw InputError("axis", "", "pH, Eh, \"dissolved copper\" or the name of a species or gas");
  if (same_word(name, "pH")) return {AxisQuantity::ph, "", low, high};
  if (same_word(name, "Eh")) return {AxisQuantity::eh_v, "", low, high};
  if (name == "dissolved copper") return {AxisQuantity::log10_copper, "", low, high};
  if (name.starts_with(kDissolved)) {
    return {AxisQuantity::log10_ligand, std::string(detail::trim(name.substr(kDissolved.size()))),
            low, high};
  }
  return {AxisQuantity::log10_activity, name, low, high};
}

namespace detail {

Range range_of(AxisQuantity quantity) {
  switch (quantity) {
    case AxisQuantity::ph:
      return {-2, 16, "-2 to 16"};
    case AxisQuantity::eh_v:
      return {-3, 3, "-3 to 3 V"};
    case AxisQuantity::log10_copper:
      return {-20, 2, "-20 to 2 (log10 of an activity)"};
    case AxisQuantity::log10_activity:
    case AxisQuantity::log10_ligand:
      break;
  }
  return {-100, 5, "-100 to 5 (log10 of an activity, or of a fugacity in bar)"};
}

std::string axis_quantity(const Axis& axis) {
  switch (axis.quantity) {
    case AxisQuantity::ph:
      return "pH";
    case AxisQuantity::eh_v:
      return "Eh";
    case AxisQuantity::log10_copper:
      return "log10 a(dissolved copper)";
    case AxisQuantity::log10_ligand:
      return "log10 a(dissolved " + axis.name + ")";
    case AxisQuantity::log10_activity:
      break;
  }
  return activity_of(axis.name);
}

}  // namespace detail

std::string axis_title(const Axis& axis) {
  const std::string quantity = detail::axis_quantity(axis);
  if (axis.quantity == AxisQuantity::eh_v) return "Eh / V vs SHE";
  return quantity.starts_with("log10 f(") ? quantity + " / bar" : quantity;
}

std::string conditions_text(const FieldOptions& options) {
  using detail::format_number;
  using detail::say;
  std::vector<std::string> parts{
      say("fields.at.temperature", {{"temperature_c", format_number(options.temperature_c)}})};
  if (options.ph) parts.push_back("pH " + format_number(*options.ph));
  if (options.eh_v) parts.push_back(say("fields.at.eh", {{"eh_v", format_number(*options.eh_v)}}));
  for (const auto& [name, value] : options.log10_activity)
    parts.push_back(activity_of(name) + " = " + format_number(value));
  for (const auto& [name, value] : options.log10_ligand)
    parts.push_back(
        say("fields.at.ligand", {{"ligand", name}, {"log10_activity", format_number(value)}}));
  if (options.x.quantity != AxisQuantity::log10_copper &&
      options.y.quantity != AxisQuantity::log10_copper)
    parts.push_back(
        say("fields.at.copper", {{"log10_activity", format_number(options.log10_copper)}}));
  if (options.log10_water != 0)
    parts.push_back("log10 a(H2O) = " + format_number(options.log10_water));
  return detail::join(parts, "; ");
}

}  // namespace aeruca
