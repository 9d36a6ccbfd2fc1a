// From names to numbers: species, solids and gases of the chosen components.

#include "equilibrium/system.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

namespace {

const char* const kWater = "H2O";
const char* const kProton = "H(+)";
const char* const kElectronName = "e(-)";

bool contains(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

class Builder {
 public:
  Builder(std::shared_ptr<const Dataset> dataset, EquilibriumOptions options) {
    system_.dataset = std::move(dataset);
    system_.options = std::move(options);
    check_options();
  }

  WaterSystem build() {
    choose_columns();
    system_.column_of.assign(data().components.size(), kNone);
    for (std::size_t j = 0; j < system_.columns.size(); ++j)
      system_.column_of[system_.component[j]] = j;
    for (Members* members : {&system_.species, &system_.phases, &system_.solids, &system_.gases}) {
      members->expressions.clear(system_.columns.size());
    }
    contained_ = contained_complexes(options().activity, data());
    for (std::size_t i = 0; i < data().species.size(); ++i) take(i);
    system_.solid_rows.take(system_.solids.expressions);
    system_.gas_rows.take(system_.gases.expressions);
    check_redox();
    refuse_or_warn();
    system_.activity =
        make_activity(options().activity, data(), system_.species.names, options().temperature_c);
    for (const auto& figure : system_.activity->figures()) figures_.insert(figure);
    system_.estimated_pairs = system_.activity->estimated_pairs();
    for (const auto& pair : system_.estimated_pairs)
      system_.largest_estimate = std::max(system_.largest_estimate, pair.uncertainty);
    system_.remarks = system_.activity->remarks();
    find_ions_of_left();
    find_inert();
    system_.figures.assign(figures_.begin(), figures_.end());
    system_.nernst_v = nernst_slope_v(options().temperature_c);
    return std::move(system_);
  }

 private:
  void find_ions_of_left() {
    const auto& names = system_.species.names;
    const auto position = [&](const std::string& name) {
      const auto found = std::find(names.begin(), names.end(), name);
      return found == names.end() ? kNone : static_cast<std::size_t>(found - names.begin());
    };
    for (const auto& each : contained_) {
      if (contains(left_to_model_, each.name))
        system_.left_to_model.push_back({each.name, position(each.cation), position(each.anion)});
    }
  }

  void find_inert() {
    for (const auto& name : system_.columns) {
      const bool lacks = !data().proton_partner_known(data().at(name));
      const bool inert = contains(options().inert, name);
      system_.lacks_acid.push_back(lacks && !inert ? 1 : 0);
      system_.inert.push_back(inert ? 1 : 0);
    }
  }

  const Dataset& data() const { return *system_.dataset; }
  const EquilibriumOptions& options() const { return system_.options; }

  void check_options() const {
    const double t = options().temperature_c;
    if (!(t >= 0 && t <= 50)) throw InputError("temperature_c", t, "0 to 50 degrees C");
    if (options().threads < 0 || options().threads > 256) {
      throw InputError("threads", options().threads, "0 to 256");
    }
    if (options().iteration_limit < 1) {
      throw InputError("iteration_limit", options().iteration_limit, "1 or more");
    }
    for (const auto& name : options().left_out) static_cast<void>(data().index(name));
    for (const auto& name : options().allowed_solids) {
      if (data().at(name).kind != PhaseKind::solid) {
        throw InputError("allowed_solids", name, "names of solids");
      }
    }
    for (const auto& name : options().inert) {
      const auto lacking = data().without_proton_partner();
      if (!contains(lacking, name))
        throw InputError("inert", name,
                         lacking.empty() ? "no names: every acid and base is in the data set"
                                         : "some of " + join(lacking, ", ") +
                                               ", whose acid or base has no constant");
    }
    if (options().precipitation == Precipitation::none && !options().allowed_solids.empty()) {
      throw InputError("allowed_solids", join(options().allowed_solids, ", "),
                       "names of solids with precipitation allowed only");
    }
  }

  void choose_columns() {
    add_column(kProton);
    add_column(kElectronName);
    const auto& wanted = options().components;
    for (const auto& name : wanted) {
      if (name == kWater || name == kProton || name == kElectronName) continue;
      static_cast<void>(data().component_index(name));
      if (!contains(system_.columns, name)) add_column(name);
    }
    if (!wanted.empty()) return;
    for (const auto& name : data().components) {
      if (name != kWater && !contains(system_.columns, name)) add_column(name);
    }
  }

  void add_column(const std::string& name) {
    system_.columns.push_back(name);
    system_.component.push_back(data().component_index(name));
    system_.column_charge.push_back(data().at(name).charge);
  }

  /// Row of a species over the columns; false when it holds another component.
  bool row_of(const Species& species, std::vector<double>& row, double& water) const {
    row.assign(system_.columns.size(), 0);
    water = 0;
    for (std::size_t c = 0; c < species.components.size(); ++c) {
      const double coefficient = species.components[c];
      if (coefficient == 0) continue;
      if (data().components[c] == kWater) {
        water = coefficient;
      } else if (system_.column_of[c] == kNone) {
        return false;
      } else {
        row[system_.column_of[c]] = coefficient;
      }
    }
    return true;
  }

  static bool only_electrons_and_water(const std::vector<double>& row) {
    return row[WaterSystem::kElectron] != 0 &&
           std::all_of(row.begin() + 2, row.end(), [](double c) { return c == 0; });
  }

  void take(std::size_t i) {
    const Species& species = data().species[i];
    if (species.kind == PhaseKind::solvent || species.kind == PhaseKind::electron) return;
    if (!std::isfinite(species.log10_k)) return;  // named in the data set, no constant known
    std::vector<double> row;
    double water = 0;
    if (!row_of(species, row, water)) return;
    const bool wanted = !contains(options().left_out, species.name);
    if (species.kind == PhaseKind::aqueous) {
      if (!wanted || left_to_gas(row)) return;
      if (is_contained(species.name)) {
        left_to_model_.push_back(species.name);
      } else if (add(system_.species, i, row, water)) {
        system_.charge.push_back(species.charge);
      }
    } else if (species.kind == PhaseKind::gas) {
      if (!add(system_.gases, i, row, water)) return;
      system_.gas_is_oxidant.push_back(only_electrons_and_water(row) ? 1 : 0);
    } else {
      add(system_.solids, i, row, water);
      if (wanted && may_form(species.name)) add(system_.phases, i, row, water);
    }
  }

  bool is_contained(const std::string& name) const {
    return std::any_of(contained_.begin(), contained_.end(),
                       [&](const ContainedComplex& each) { return each.name == name; });
  }

  bool may_form(const std::string& solid) const {
    return options().precipitation == Precipitation::allowed &&
           (options().allowed_solids.empty() || contains(options().allowed_solids, solid));
  }

  /// With Eh given, dissolved oxygen and hydrogen are no part of the solution: outside the field of
  /// water their equilibrium molality is without meaning. Their fugacity is reported.
  bool left_to_gas(const std::vector<double>& row) const {
    return options().redox == Redox::eh && only_electrons_and_water(row);
  }

  bool add(Members& members, std::size_t i, const std::vector<double>& row, double water) {
    const Species& species = data().species[i];
    const bool matters = &members == &system_.species || &members == &system_.phases;
    if (!constant_is_had(species)) {
      if (matters) without_enthalpy_.push_back(species.name);
      return false;
    }
    members.names.push_back(species.name);
    members.index.push_back(i);
    members.expressions.add(row.data(), kLn10 * data().log10_k(species, options().temperature_c),
                            water);
    if (matters) figures_.insert(species.figures.begin(), species.figures.end());
    const bool once = &members == &system_.species || &members == &system_.solids;
    if (once && data().rests_on_estimate(species, options().temperature_c))
      system_.estimated_heats.push_back(species.name);
    return true;
  }

  /// Its enthalpy was found, or is estimated and that is allowed.
  bool constant_is_had(const Species& species) const {
    const double there = options().temperature_c;
    return Dataset::log10_k_known_at(species, there) &&
           (options().missing_enthalpy == MissingEnthalpy::estimate ||
            !data().rests_on_estimate(species, there));
  }

  void check_redox() const {
    if (options().redox != Redox::conserved) return;
    for (const char* name : {"O2(aq)", "H2(aq)"}) {
      if (!contains(system_.species.names, name)) {
        throw InputError(
            "redox", "conserved",
            std::string("a system with ") + name + ", so that electrons have somewhere to go");
      }
    }
  }

  void refuse_or_warn() {
    if (without_enthalpy_.empty()) return;
    const std::string list = join(without_enthalpy_, ", ");
    if (options().missing_enthalpy != MissingEnthalpy::leave_out) {
      throw InputError("temperature_c", options().temperature_c,
                       "25 degrees C, because the data set has no enthalpy for " + list +
                           "; leave them out, or let them be estimated where there is a rule");
    }
    system_.warnings.push_back(say("equilibrium.warning.left_out", {{"species", list}}));
  }

  WaterSystem system_;
  std::vector<std::string> without_enthalpy_;
  std::vector<ContainedComplex> contained_;  // complexes within the model's parameters
  std::vector<std::string> left_to_model_;   // ... that would be of this system
  std::set<std::string> figures_;
};

}  // namespace

WaterSystem make_system(std::shared_ptr<const Dataset> dataset, EquilibriumOptions options) {
  if (!dataset) throw InputError("dataset", "none", "a data set");
  return Builder(std::move(dataset), std::move(options)).build();
}

namespace {

// Components in one mole of a salt by its formula: NaCl and Na2CO3 name what was weighed in as well
// as halite and natron do, for water is not counted.
std::vector<double> components_of_formula(const Dataset& dataset, const std::string& name) {
  for (const Species& species : dataset.species) {
    if (species.kind == PhaseKind::solid && species.formula == name) return species.components;
  }
  for (const Salt& salt : dataset.salts) {
    if (salt.formula != name && salt.anhydrous != name) continue;
    std::vector<double> sum(dataset.components.size(), 0);
    for (const auto& [ion, count] : salt.ions) {
      const Species& species = dataset.at(ion);
      for (std::size_t c = 0; c < sum.size(); ++c) sum[c] += count * species.components[c];
    }
    return sum;
  }
  return dataset.at(name).components;  // throws with the nearest name
}

void add_components(const WaterSystem& system, const std::string& name,
                    const std::vector<double>& components, double moles,
                    std::vector<double>& totals) {
  for (std::size_t c = 0; c < components.size(); ++c) {
    if (components[c] == 0) continue;
    const std::size_t column = system.column_of[c];
    if (column != kNone) {
      totals[column] += components[c] * moles;
    } else if (const auto& component = system.dataset->components[c]; component != kWater) {
      throw InputError("totals_mol_per_kg", name,
                       "ingredients made of " + join(system.columns, ", ") + "; " + component +
                           " is not among them");
    }
  }
}

}  // namespace

void add_ingredient(const WaterSystem& system, const std::string& name, double moles,
                    std::vector<double>& totals) {
  const Dataset& dataset = *system.dataset;
  if (!dataset.contains(name)) {
    add_components(system, name, components_of_formula(dataset, name), moles, totals);
    return;
  }
  const Species& species = dataset.at(name);
  if (species.kind == PhaseKind::electron || species.kind == PhaseKind::solvent) {
    throw InputError("totals_mol_per_kg", name, "dissolved species, solids and gases");
  }
  add_components(system, name, species.components, moles, totals);
}

std::size_t find_gas(const WaterSystem& system, const std::string& name) {
  if (system.dataset->at(name).kind != PhaseKind::gas) {
    throw InputError("fugacity_bar", name, "names of gases, such as CO2(g)");
  }
  const auto& names = system.gases.names;
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) {
    throw InputError("fugacity_bar", name,
                     "gases of the chosen components with a constant at this temperature");
  }
  return static_cast<std::size_t>(found - names.begin());
}

double ln_fugacity(const std::string& name, double fugacity_bar) {
  if (!(fugacity_bar > 0 && fugacity_bar <= 1000)) {
    throw InputError("fugacity_bar of " + name, fugacity_bar, "above 0 up to 1000 bar");
  }
  return std::log(fugacity_bar);
}

namespace {

// One of pH, Eh, oxygen and water activity: the value where it is used, nothing where it is not.
struct Held {
  const char* name;
  const char* option;  // the one that uses it
  std::string_view needed, has;
  double low, high;
  const char* range;
};

double value_of(const Held& held, std::optional<double> given) {
  if (held.needed != held.has) {
    if (!given) return 0;
    const std::string option(held.option);
    throw InputError(held.name, *given,
                     std::string(held.name) + " with " + option + " " + std::string(held.needed) +
                         " only; this system has " + option + " " + std::string(held.has));
  }
  if (!given) throw InputError(held.name, "not given", held.range);
  if (!(*given >= held.low && *given <= held.high)) throw InputError(held.name, *given, held.range);
  return *given;
}

}  // namespace

HeldWater held_of(const EquilibriumOptions& options, std::optional<double> ph,
                  std::optional<double> eh_v, std::optional<double> oxygen_bar,
                  std::optional<double> water_activity) {
  constexpr double kLeastAboveZero = std::numeric_limits<double>::min();
  const auto acidity = to_string(options.acidity);
  const auto redox = to_string(options.redox);
  const auto solvent = to_string(options.solvent);
  HeldWater held;
  held.ph =
      value_of({"ph", "acidity", to_string(Acidity::given_ph), acidity, -2, 16, "-2 to 16"}, ph);
  held.eh_v = value_of({"eh_v", "redox", to_string(Redox::eh), redox, -2, 2, "-2 to 2 V"}, eh_v);
  held.oxygen_bar = value_of({"oxygen_bar", "redox", to_string(Redox::oxygen), redox,
                              kLeastAboveZero, 1000, "above 0 up to 1000 bar"},
                             oxygen_bar);
  held.water_activity =
      value_of({"water_activity", "solvent", to_string(Solvent::water_activity), solvent,
                kLeastAboveZero, std::nextafter(1.0, 0.0), "above 0, below 1"},
               water_activity);
  return held;
}

}  // namespace aeruca::detail
