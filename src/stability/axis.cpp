#include <cmath>

#include "base/text.hpp"
#include "stability/system.hpp"

namespace aeruca {

namespace {

constexpr std::string_view kDissolved = "dissolved ";

std::string activity_of(const std::string& name) {
  const bool gas = name.size() > 3 && name.ends_with("(g)");
  return (gas ? "log10 f(" : "log10 a(") + name + ")";
}

}  // namespace

Axis axis_from(std::string_view text, double low, double high) {
  const std::string name(detail::trim(text));
  if (name.empty()) throw InputError("axis", "", "pH, Eh, \"dissolved copper\" or the name of a species or gas");
  if (name == "pH") return {AxisQuantity::ph, "", low, high};
  if (name == "Eh") return {AxisQuantity::eh_v, "", low, high};
  if (name == "dissolved copper") return {AxisQuantity::log10_copper, "", low, high};
  if (name.starts_with(kDissolved)) {
    return {AxisQuantity::log10_ligand, std::string(detail::trim(name.substr(kDissolved.size()))), low, high};
  }
  return {AxisQuantity::log10_activity, name, low, high};
}

namespace detail {

Range range_of(AxisQuantity quantity) {
  switch (quantity) {
    case AxisQuantity::ph: return {-2, 16, "-2 to 16"};
    case AxisQuantity::eh_v: return {-3, 3, "-3 to 3 V"};
    case AxisQuantity::log10_copper: return {-20, 2, "-20 to 2 (log10 of an activity)"};
    case AxisQuantity::log10_activity:
    case AxisQuantity::log10_ligand: break;
  }
  return {-100, 5, "-100 to 5 (log10 of an activity, or of a fugacity in bar)"};
}

std::string axis_quantity(const Axis& axis) {
  switch (axis.quantity) {
    case AxisQuantity::ph: return "pH";
    case AxisQuantity::eh_v: return "Eh";
    case AxisQuantity::log10_copper: return "log10 a(dissolved copper)";
    case AxisQuantity::log10_ligand: return "log10 a(dissolved " + axis.name + ")";
    case AxisQuantity::log10_activity: break;
  }
  return activity_of(axis.name);
}

}  // namespace detail

std::string axis_title(const Axis& axis) {
  const std::string quantity = detail::axis_quantity(axis);
  if (axis.quantity == AxisQuantity::eh_v) return "Eh / V vs SHE";
  return quantity.starts_with("log10 f(") ? quantity + " / bar" : quantity;
}

}  // namespace aeruca
