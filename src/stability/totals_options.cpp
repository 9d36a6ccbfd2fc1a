// Axes of fields at fixed totals, and what may stand beside them.

#include <algorithm>
#include <cmath>

#include "aeruca/totals_fields.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "stability/totals_system.hpp"

namespace aeruca {

namespace {

constexpr std::string_view kTotal = "total ";  // as written on the command line

}  // namespace

ConditionAxis condition_axis(std::string_view text, double low, double high) {
  const std::string name(detail::trim(text));
  if (name == "pH" || name == "ph") return {Condition::ph, "", low, high};
  if (name == "Eh" || name == "eh") return {Condition::eh_v, "", low, high};
  if (name == "oxygen" || name == "O2(g)") return {Condition::log10_oxygen, "", low, high};
  if (name == "water activity") return {Condition::water_activity, "", low, high};
  if (name == "temperature") return {Condition::temperature_c, "", low, high};
  if (name.starts_with(kTotal)) {
    return {Condition::log10_total, std::string(detail::trim(name.substr(kTotal.size()))), low,
            high};
  }
  if (name.ends_with("(g)")) return {Condition::log10_fugacity, name, low, high};
  throw InputError("axis", name,
                   "pH, Eh, oxygen, water activity, temperature, \"total NAME\" or a gas");
}

std::string axis_title(const ConditionAxis& axis) {
  switch (axis.condition) {
    case Condition::ph:
      return "pH";
    case Condition::eh_v:
      return "Eh / V vs SHE";
    case Condition::log10_oxygen:
      return "log10 f(O2(g)) / bar";
    case Condition::log10_total:
      return detail::say("fields.axis.total", {{"name", axis.name}});
    case Condition::log10_fugacity:
      return "log10 f(" + axis.name + ") / bar";
    case Condition::water_activity:
      return detail::say("fields.axis.water_activity");
    case Condition::temperature_c:
      return detail::say("fields.axis.temperature");
  }
  return "";
}

namespace detail {

namespace {

struct Bounds {
  double low, high;
  const char* text;
};

Bounds bounds_of(Condition condition) {
  switch (condition) {
    case Condition::ph:
      return {-2, 16, "-2 to 16"};
    case Condition::eh_v:
      return {-2, 2, "-2 to 2 V"};
    case Condition::log10_oxygen:
      return {-100, 3, "-100 to 3"};
    case Condition::log10_total:
      return {-20, 2, "-20 to 2"};
    case Condition::log10_fugacity:
      return {-100, 3, "-100 to 3"};
    case Condition::water_activity:
      return {0.02, 0.9999, "0.02 to 0.9999"};
    case Condition::temperature_c:
      return {0, 50, "0 to 50 degrees C"};
  }
  return {0, 0, ""};
}

void check_axis(const char* name, const ConditionAxis& axis) {
  const Bounds bounds = bounds_of(axis.condition);
  const bool fine = axis.low < axis.high && axis.low >= bounds.low && axis.high <= bounds.high;
  if (!fine) {
    throw InputError(name, format_number(axis.low) + " to " + format_number(axis.high),
                     std::string("a range that rises within ") + bounds.text);
  }
}

bool same(const ConditionAxis& a, const ConditionAxis& b) {
  return a.condition == b.condition && a.name == b.name;
}

bool is(const ConditionAxis& axis, Condition condition) {
  return axis.condition == condition;
}

// What is held and runs along an axis as well.
bool is_held(const ConditionAxis& axis, const EquilibriumInput& held) {
  switch (axis.condition) {
    case Condition::ph:
      return held.ph.has_value();
    case Condition::eh_v:
    case Condition::log10_oxygen:
      return held.eh_v.has_value() || held.oxygen_bar.has_value();
    case Condition::log10_total:
      return held.totals_mol_per_kg.contains(axis.name);
    case Condition::log10_fugacity:
      return held.fugacity_bar.contains(axis.name);
    case Condition::water_activity:
      return held.water_activity.has_value();
    case Condition::temperature_c:
      return false;
  }
  return false;
}

}  // namespace

bool runs(const TotalsFieldOptions& options, Condition condition) {
  return is(options.x, condition) || is(options.y, condition);
}

void check_totals_options(const TotalsFieldOptions& options) {
  check_axis("x", options.x);
  check_axis("y", options.y);
  const bool both_redox = runs(options, Condition::eh_v) && runs(options, Condition::log10_oxygen);
  if (same(options.x, options.y) || both_redox) {
    throw InputError("y", axis_title(options.y),
                     "another condition than that of the x axis, " + axis_title(options.x));
  }
  for (const ConditionAxis* axis : {&options.x, &options.y}) {
    if (!is_held(*axis, options.held)) continue;
    throw InputError(axis == &options.x ? "x" : "y", axis_title(*axis),
                     "a condition that is not held as well");
  }
  if (options.held.eh_v && options.held.oxygen_bar)
    throw InputError("oxygen_bar", *options.held.oxygen_bar, "Eh or oxygen, not both");
  if (options.cells < 8 || options.cells > 400)
    throw InputError("cells", options.cells, "8 to 400");
}

double tolerance_of(Condition condition) {
  switch (condition) {
    case Condition::ph:
    case Condition::log10_oxygen:
    case Condition::log10_total:
    case Condition::log10_fugacity:
      return 0.001;
    case Condition::eh_v:
    case Condition::water_activity:
      return 0.0001;
    case Condition::temperature_c:
      return 0.01;
  }
  return 0.001;
}

std::string held_text(const TotalsFieldOptions& options) {
  const EquilibriumInput& held = options.held;
  std::vector<std::string> parts;
  if (!runs(options, Condition::temperature_c))
    parts.push_back(
        say("fields.at.temperature", {{"temperature_c", format_number(options.temperature_c)}}));
  if (held.ph) parts.push_back("pH " + format_number(*held.ph));
  if (held.eh_v) parts.push_back(say("fields.at.eh", {{"eh_v", format_number(*held.eh_v)}}));
  if (held.oxygen_bar)
    parts.push_back(say("fields.at.gas",
                        {{"gas", "O2(g)"}, {"fugacity_bar", format_number(*held.oxygen_bar, 3)}}));
  for (const auto& [name, bar] : held.fugacity_bar)
    parts.push_back(say("fields.at.gas", {{"gas", name}, {"fugacity_bar", format_number(bar, 3)}}));
  for (const auto& [name, moles] : held.totals_mol_per_kg)
    parts.push_back(
        say("fields.at.total", {{"name", name}, {"mol_per_kg", format_number(moles, 3)}}));
  if (held.water_activity)
    parts.push_back(
        say("fields.at.water_activity", {{"value", format_number(*held.water_activity, 4)}}));
  return join(parts, "; ");
}

}  // namespace detail

}  // namespace aeruca
