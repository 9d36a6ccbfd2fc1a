// What is held at a point: pH, Eh, activities, ligands; each from a number or from an axis.

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "stability/system.hpp"

namespace aeruca::detail {

namespace {

constexpr std::string_view kCopper = "Cu(2+)";

void check_axis(const Dataset& dataset, const std::string& parameter, const Axis& axis) {
  if (axis.quantity == AxisQuantity::log10_activity)
    (void)dataset.index(axis.name);  // UnknownName comes first
  if (axis.quantity == AxisQuantity::log10_ligand) (void)dataset.component_index(axis.name);
  const Range range = range_of(axis.quantity);
  const std::string accepted = "a range within " + std::string(range.text) + ", low before high";
  if (!(axis.low < axis.high) || !(axis.low >= range.low) || !(axis.high <= range.high)) {
    throw InputError(parameter + " (" + axis_quantity(axis) + ")",
                     format_number(axis.low) + " to " + format_number(axis.high), accepted);
  }
}

void check_value(const std::string& parameter, AxisQuantity quantity, double value) {
  const Range range = range_of(quantity);
  if (!(value >= range.low && value <= range.high))
    throw InputError(parameter, value, std::string(range.text));
}

// A quantity that must come from exactly one place: an axis or a value.
struct Given {
  Plane plane;
  SetBy set_by = SetBy::value;
};

class Sources {
 public:
  explicit Sources(const FieldOptions& options) : options_(options) {}

  [[nodiscard]] std::optional<Given> find(AxisQuantity quantity, const std::string& name,
                                          const std::string& parameter,
                                          std::optional<double> value) const {
    std::optional<Given> found;
    const auto add = [&](Given given) {
      if (found)
        throw InputError(parameter, value ? format_number(*value) : "twice an axis",
                         "one place: an axis or a value");
      found = given;
    };
    if (is(options_.x, quantity, name)) add({{0, 1, 0}, SetBy::x});
    if (is(options_.y, quantity, name)) add({{0, 0, 1}, SetBy::y});
    if (value) {
      check_value(parameter, quantity, *value);
      add({{*value, 0, 0}, SetBy::value});
    }
    return found;
  }

 private:
  static bool is(const Axis& axis, AxisQuantity quantity, const std::string& name) {
    return axis.quantity == quantity && axis.name == name;
  }
  const FieldOptions& options_;
};

double constant_of(System& system, const Species& species) {
  const auto log10_k = constant_at(system, species);
  if (log10_k) return *log10_k;
  throw InputError("temperature_c", system.options.temperature_c,
                   "25 while " + species.name + " is held, whose enthalpy is not known");
}

Held hold(System& system, const std::string& name, const Given& given, std::string quantity,
          double per_quantity) {
  Held held;
  held.species = system.dataset->index(name);
  held.log10_k = constant_of(system, system.dataset->species[held.species]);
  held.log10_activity = per_quantity * given.plane;
  held.set_by = given.set_by;
  held.quantity = std::move(quantity);
  held.per_quantity = per_quantity;
  held.errors = errors_of(*system.dataset, system.dataset->species[held.species],
                          system.options.temperature_c, system.error_names);
  return held;
}

bool is_axis(const FieldOptions& options, AxisQuantity quantity) {
  return options.x.quantity == quantity || options.y.quantity == quantity;
}

void add_ph(System& system, const Sources& sources) {
  const auto given = sources.find(AxisQuantity::ph, "", "ph", system.options.ph);
  if (!given) throw InputError("ph", "not given", "a pH value, or pH as an axis");
  system.fixed.push_back(hold(system, "H(+)", *given, "pH", -1));
}

void add_electrons(System& system, const Sources& sources) {
  const auto given = sources.find(AxisQuantity::eh_v, "", "eh_v", system.options.eh_v);
  if (given)
    system.fixed.push_back(hold(system, "e(-)", *given, "Eh", -1 / system.volts_per_decade));
}

void add_water(System& system) {
  const double value = system.options.log10_water;
  if (!(value >= -1 && value <= 0)) throw InputError("log10_water", value, "-1 to 0");
  system.fixed.push_back(hold(system, "H2O", {{value, 0, 0}, SetBy::value}, "log10 a(H2O)", 1));
}

void refuse_copper(const System& system, const Species& species, const std::string& parameter) {
  if (species.components[system.dataset->component_index(kCopper)] != 0) {
    throw InputError(parameter, species.name,
                     "species without copper; the activity of dissolved copper is log10_copper");
  }
}

// Names of an axis kind and of a map of values, each once.
std::vector<std::string> names_of(const FieldOptions& options, AxisQuantity quantity,
                                  const std::map<std::string, double>& values) {
  std::vector<std::string> names;
  names.reserve(values.size());
  for (const auto& [name, value] : values) names.push_back(name);
  for (const Axis* axis : {&options.x, &options.y}) {
    if (axis->quantity == quantity &&
        std::find(names.begin(), names.end(), axis->name) == names.end())
      names.push_back(axis->name);
  }
  return names;
}

std::optional<double> value_of(const std::map<std::string, double>& values,
                               const std::string& name) {
  const auto found = values.find(name);
  if (found == values.end()) return std::nullopt;
  return found->second;
}

void add_activities(System& system, const Sources& sources) {
  const auto& values = system.options.log10_activity;
  for (const std::string& name : names_of(system.options, AxisQuantity::log10_activity, values)) {
    const Species& species = system.dataset->at(name);
    const std::string parameter = "log10_activity of " + name;
    refuse_copper(system, species, parameter);
    const bool allowed = species.kind == PhaseKind::aqueous || species.kind == PhaseKind::gas;
    if (!allowed || name == "H(+)") {
      throw InputError(parameter, std::string(to_string(species.kind)),
                       "a dissolved species or gas; pH, Eh and water have options of their own");
    }
    const auto given =
        sources.find(AxisQuantity::log10_activity, name, parameter, value_of(values, name));
    const Axis axis{AxisQuantity::log10_activity, name, 0, 1};
    system.fixed.push_back(hold(system, name, *given, axis_quantity(axis), 1));
  }
}

// A form holds the ligand, and besides it only water, protons and electrons.
bool is_form(const Dataset& dataset, const Species& species, std::size_t ligand) {
  if (species.kind != PhaseKind::aqueous || !(species.components[ligand] > 0)) return false;
  for (std::size_t j = 0; j < species.components.size(); ++j) {
    const std::string& name = dataset.components[j];
    if (j != ligand && species.components[j] != 0 && name != "H2O" && name != "H(+)" &&
        name != "e(-)")
      return false;
  }
  return true;
}

bool is_left_out(const FieldOptions& options, const std::string& name) {
  return std::any_of(options.left_out.begin(), options.left_out.end(),
                     [&](const LeftOut& left_out) { return left_out.name == name; });
}

void add_ligands(System& system, const Sources& sources) {
  const Dataset& dataset = *system.dataset;
  const auto& values = system.options.log10_ligand;
  for (const std::string& name : names_of(system.options, AxisQuantity::log10_ligand, values)) {
    const std::string parameter = "log10_ligand of " + name;
    Ligand ligand;
    ligand.component = dataset.component_index(name);
    if (name == "H2O" || name == "H(+)" || name == "e(-)" || name == kCopper)
      throw InputError(parameter, name, "a ligand such as Cl(-), CO3(2-) or SO4(2-)");
    const auto given =
        sources.find(AxisQuantity::log10_ligand, name, parameter, value_of(values, name));
    for (const Species& species : dataset.species) {
      if (is_form(dataset, species, ligand.component) && !is_left_out(system.options, species.name))
        ligand.forms.push_back(
            hold(system, species.name, *given, "log10 a(" + species.name + ")", 1));
    }
    if (ligand.forms.empty())
      throw InputError(parameter, name, "a component with a dissolved form that is not left out");
    system.ligands.push_back(std::move(ligand));
  }
}

}  // namespace

void add_held(System& system) {
  const FieldOptions& options = system.options;
  check_axis(*system.dataset, "x axis", options.x);
  check_axis(*system.dataset, "y axis", options.y);
  const Sources sources(options);
  add_water(system);
  add_ph(system, sources);
  add_electrons(system, sources);
  add_activities(system, sources);
  add_ligands(system, sources);
  check_value("log10_copper", AxisQuantity::log10_copper, options.log10_copper);
  if (is_axis(options, AxisQuantity::log10_copper) && options.x.quantity == options.y.quantity)
    throw InputError("y axis", "dissolved copper", "another quantity than the x axis");
}

}  // namespace aeruca::detail
