#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "aeruca/constants.hpp"
#include "aeruca/not_given.hpp"
#include "dataset/heat_rule.hpp"
#include "dataset/records.hpp"

// Every species reduced to its formation from the components. For a reaction with coefficients nu
// and constant K,  sum nu_i ln a_i = ln K,  so the one species x that the reaction defines has
//   ln a_x = (ln K - sum_{i != x} nu_i ln a_i) / nu_x,
// and its component coefficients, enthalpy and heat capacity follow by the same combination. What
// no figure gives is estimated for the reaction as it is recorded (heat_rule.hpp).

namespace aeruca::detail {
namespace {

/// J/mol per unit of log10 K at 25 degrees C.
double energy_per_log10() {
  return kGasConstant * kReferenceTemperature * kLn10;
}

/// Combination of base figures: sum of coefficient times figure.
using Combination = std::map<std::string, double>;

struct Reduced {
  std::vector<double> components;
  double log10_k = 0;
  double enthalpy = 0;
  double heat_capacity = 0;
  Combination constants;                 // of log10_k, by figure id
  Combination enthalpies;                // of enthalpy, by figure id
  Combination heat_capacities;           // of heat capacity, by figure id
  std::map<std::string, double> spread;  // uncertainty of each of them
  std::set<std::string> figures;         // all that it rests on
};

class Reducer {
 public:
  explicit Reducer(const Records& records) : records_(records) {
    for (const auto& entry : records.species.entries())
      if (entry.value.constant_from == kComponent) {
        component_[entry.key] = component_.size();
        names_.push_back(entry.key);
      }
    index_chosen();
  }

  [[nodiscard]] const std::vector<std::string>& components() const { return names_; }
  /// Figures that the rule gave for want of others.
  [[nodiscard]] const std::vector<Figure>& estimates() const { return estimates_; }

  const Reduced& reduce(const std::string& name) {
    const auto known = done_.find(name);
    if (known != done_.end()) return known->second;
    const auto* entry = records_.species.find(name);
    if (!open_.insert(name).second) fail(*entry, "its constant is defined in a circle");
    Reduced result = from_record(*entry);
    open_.erase(name);
    return done_[name] = std::move(result);
  }

 private:
  using Entry = Table<SpeciesRecord>::Entry;

  [[noreturn]] static void fail(const Entry& entry, const std::string& problem) {
    throw FileError(entry.location.file, entry.location.line,
                    "constant_from of species '" + entry.key + "'", problem);
  }

  void index_chosen() {
    for (const auto& entry : records_.reactions.entries()) {
      const Figure& figure = entry.value.figure;
      if (figure.chosen) by_equation_[{figure.subject, figure.quantity}] = &figure;
    }
    for (const auto& entry : records_.energies.entries())
      if (entry.value.chosen) energy_[{entry.value.subject, entry.value.quantity}] = &entry.value;
  }

  Reduced from_record(const Entry& entry) {
    const std::string& from = entry.value.constant_from;
    if (from == kComponent) return component(entry.key);
    if (from == kEnergies) return from_energies(entry);
    if (from == kSalt) return from_salt(entry);
    const auto* reaction = records_.reactions.find(from);
    if (reaction == nullptr)
      fail(entry, "no reaction '" + from +
                      "'; accepted is the id of a reaction, or component, energies, salt, none");
    return from_reaction(entry, reaction->value);
  }

  Reduced component(const std::string& name) const {
    Reduced result;
    result.components.assign(names_.size(), 0);
    result.components[component_.at(name)] = 1;
    return result;
  }

  // Adds `coefficient` times a reduced species.
  static void add(Reduced& sum, const Reduced& part, double coefficient) {
    for (std::size_t j = 0; j < sum.components.size(); ++j)
      sum.components[j] += coefficient * part.components[j];
    sum.log10_k += coefficient * part.log10_k;
    sum.enthalpy += coefficient * part.enthalpy;
    sum.heat_capacity += coefficient * part.heat_capacity;
    for (const auto& [id, factor] : part.constants) sum.constants[id] += coefficient * factor;
    for (const auto& [id, factor] : part.enthalpies) sum.enthalpies[id] += coefficient * factor;
    for (const auto& [id, factor] : part.heat_capacities)
      sum.heat_capacities[id] += coefficient * factor;
    sum.spread.insert(part.spread.begin(), part.spread.end());
    sum.figures.insert(part.figures.begin(), part.figures.end());
  }

  static void add_constant(Reduced& sum, const Figure& figure, double coefficient, double log10_k,
                           double spread) {
    sum.log10_k += coefficient * log10_k;
    sum.constants[figure.id] += coefficient;
    sum.spread[figure.id] = std::isnan(spread) ? 0 : spread;
    sum.figures.insert(figure.id);
  }

  Reduced from_reaction(const Entry& entry, const ReactionRecord& reaction) {
    if (reaction.figure.quantity != "log10_k" || std::isnan(reaction.figure.value) ||
        !reaction.figure.chosen)
      fail(entry, "'" + reaction.figure.id + "' is no chosen log10_k with a value");
    double own = 0;
    for (const auto& [name, coefficient] : reaction.terms)
      if (name == entry.key) own = coefficient;
    if (own == 0) fail(entry, "reaction '" + reaction.figure.id + "' does not hold the species");
    Reduced result;
    result.components.assign(names_.size(), 0);
    for (const auto& [name, coefficient] : reaction.terms)
      if (name != entry.key) add(result, reduce(name), -coefficient / own);
    add_constant(result, reaction.figure, 1 / own, reaction.figure.value,
                 reaction.figure.uncertainty);
    add_heats(result, reaction, reaction.figure.value, own);
    return result;
  }

  // `reaction` with the figure of its constant, of which `log10_k` is the value.
  void add_heats(Reduced& result, const ReactionRecord& reaction, double log10_k, double own) {
    Combination used;
    double value = reaction_value(result, reaction, "enthalpy", used);
    if (std::isnan(value)) value = estimated_heat(result, reaction, log10_k, used);
    result.enthalpy += value / own;
    for (const auto& [id, factor] : used) result.enthalpies[id] += factor / own;
    value = reaction_value(result, reaction, "heat_capacity", used);
    if (std::isnan(value)) value = estimated_capacity(reaction, used);
    result.heat_capacity += value / own;
    for (const auto& [id, factor] : used) result.heat_capacities[id] += factor / own;
  }

  // The rule for a reaction without figures; NaN in a data set that lacks the ionisation of water.
  double estimated_heat(Reduced& result, const ReactionRecord& reaction, double log10_k,
                        Combination& used) {
    const auto water = ionisation_of_water();
    if (!water) return kNotGiven;
    estimates_.push_back(
        estimated_enthalpy(reaction.figure, log10_k, made_by(reaction.terms, records_), *water));
    used = {{estimates_.back().id, 1}};
    result.figures.insert(estimates_.back().id);
    return estimates_.back().value;
  }

  double estimated_capacity(const ReactionRecord& reaction, Combination& used) {
    const auto water = ionisation_of_water();
    if (!water) return kNotGiven;
    estimates_.push_back(
        estimated_heat_capacity(reaction.figure, made_by(reaction.terms, records_), *water));
    used = {{estimates_.back().id, 1}};
    return estimates_.back().value;
  }

  // Nothing while it is itself being reduced, so that no rule rests on itself.
  std::optional<WaterIonisation> ionisation_of_water() {
    const auto* entry = records_.species.find("OH(-)");
    if (entry == nullptr || entry->value.constant_from == kNoConstant || open_.contains("OH(-)"))
      return std::nullopt;
    const Reduced& hydroxide = reduce("OH(-)");
    if (std::isnan(hydroxide.enthalpy) || std::isnan(hydroxide.heat_capacity)) return std::nullopt;
    return WaterIonisation{hydroxide.log10_k, hydroxide.enthalpy, hydroxide.heat_capacity};
  }

  // Enthalpy or heat capacity of a reaction: its own chosen figure, else from the chosen formation
  // values of all its species, else NaN; and what it is the sum of.
  double reaction_value(Reduced& result, const ReactionRecord& reaction,
                        const std::string& quantity, Combination& used) {
    used.clear();
    const auto own = by_equation_.find({reaction.figure.subject, quantity});
    if (own != by_equation_.end() && !std::isnan(own->second->value)) {
      result.figures.insert(own->second->id);
      used[own->second->id] = 1;
      return own->second->value;
    }
    double sum = 0;
    for (const auto& [name, coefficient] : reaction.terms) {
      const auto formation = energy_.find({name, quantity});
      if (formation == energy_.end()) {
        used.clear();
        return kNotGiven;
      }
      sum += coefficient * formation->second->value;
      used[formation->second->id] += coefficient;
    }
    for (const auto& [id, coefficient] : used) result.figures.insert(id);
    return sum;
  }

  Reduced from_energies(const Entry& entry) {
    Reduced result;
    result.components.assign(names_.size(), 0);
    double own = 0;
    for (const auto& [name, coefficient] : entry.value.formation)
      if (name == entry.key) own = coefficient;
    if (own == 0) fail(entry, "its formation equation does not hold the species");
    const double scale = -1000 / energy_per_log10() / own;
    for (const auto& [name, coefficient] : entry.value.formation) {
      if (name != entry.key) add(result, reduce(name), -coefficient / own);
      const auto energy = energy_.find({name, "gibbs_energy"});
      if (energy == energy_.end()) fail(entry, "no chosen gibbs_energy of '" + name + "'");
      const Figure& figure = *energy->second;
      result.log10_k += coefficient * scale * figure.value;
      result.constants[figure.id] += coefficient * scale;
      result.spread[figure.id] = std::isnan(figure.uncertainty) ? 0 : figure.uncertainty;
      result.figures.insert(figure.id);
    }
    Figure constant;
    constant.id = constant.subject = entry.key;
    constant.source = energy_.at({entry.key, "gibbs_energy"})->source;
    add_heats(result, {entry.value.formation, constant}, gibbs_constant(entry.value.formation),
              own);
    return result;
  }

  // log10 of the constant of a reaction by chosen formation energies that are there.
  double gibbs_constant(const Terms& terms) const {
    double energy = 0;
    for (const auto& [name, coefficient] : terms)
      energy += coefficient * energy_.at({name, "gibbs_energy"})->value;
    return -1000 * energy / energy_per_log10();
  }

  Reduced from_salt(const Entry& entry) {
    const auto* salt = records_.salts.find(entry.key);
    if (salt == nullptr || std::isnan(salt->value.ln_k_25c))
      fail(entry, "no salt of that name has an ln_k");
    Reduced result;
    result.components.assign(names_.size(), 0);
    for (const auto& [ion, count] : salt->value.ions) add(result, reduce(ion), count);
    if (salt->value.waters > 0) add(result, reduce("H2O"), salt->value.waters);
    ReactionRecord dissolution{{{entry.key, -1}}, {}};
    dissolution.terms.insert(dissolution.terms.end(), salt->value.ions.begin(),
                             salt->value.ions.end());
    const Figure* heat = nullptr;
    const Figure* capacity = nullptr;
    for (const Figure& figure : salt->figures)
      if (figure.quantity == "ln_k") {
        add_constant(result, figure, -1 / kLn10, figure.value, figure.uncertainty);
        dissolution.figure = figure;
      } else if (figure.quantity == "dissolution_enthalpy") {
        heat = &figure;
      } else if (figure.quantity == "dissolution_heat_capacity") {
        capacity = &figure;
      }
    add_salt_heats(result, dissolution, heat, capacity);
    return result;
  }

  void add_salt_heats(Reduced& result, const ReactionRecord& dissolution, const Figure* heat,
                      const Figure* capacity) {
    Combination used;
    if (heat == nullptr || std::isnan(heat->value)) {
      result.enthalpy -=
          estimated_heat(result, dissolution, dissolution.figure.value / kLn10, used);
    } else {
      result.enthalpy -= heat->value;
      result.figures.insert(heat->id);
      used = {{heat->id, 1}};
    }
    for (const auto& [id, factor] : used) result.enthalpies[id] -= factor;
    if (capacity == nullptr) {
      result.heat_capacity -= estimated_capacity(dissolution, used);
    } else {
      result.heat_capacity -= capacity->value;
      result.figures.insert(capacity->id);
      used = {{capacity->id, 1}};
    }
    for (const auto& [id, factor] : used) result.heat_capacities[id] -= factor;
  }

  const Records& records_;
  std::vector<std::string> names_;
  std::map<std::string, std::size_t> component_;
  std::map<std::pair<std::string, std::string>, const Figure*> by_equation_;
  std::map<std::pair<std::string, std::string>, const Figure*> energy_;
  std::map<std::string, Reduced> done_;
  std::set<std::string> open_;
  std::vector<Figure> estimates_;
};

std::vector<std::pair<std::string, double>> terms_of(const Combination& combination) {
  std::vector<std::pair<std::string, double>> terms;
  for (const auto& [id, coefficient] : combination)
    if (coefficient != 0) terms.emplace_back(id, coefficient);
  return terms;
}

double combined_uncertainty(const Reduced& reduced) {
  double squares = 0;
  for (const auto& [id, coefficient] : reduced.constants) {
    const double part = coefficient * reduced.spread.at(id);
    squares += part * part;
  }
  return std::sqrt(squares);
}

Species finished(const Table<SpeciesRecord>::Entry& entry, const Reduced& reduced) {
  Species species = entry.value.species;
  species.components = reduced.components;
  species.log10_k = reduced.log10_k;
  species.log10_k_uncertainty = combined_uncertainty(reduced);
  species.enthalpy_kj_per_mol = reduced.enthalpy;
  species.heat_capacity_j_per_mol_k = reduced.heat_capacity;
  species.figures.assign(reduced.figures.begin(), reduced.figures.end());
  species.constant_terms = terms_of(reduced.constants);
  if (!std::isnan(reduced.enthalpy)) species.enthalpy_terms = terms_of(reduced.enthalpies);
  if (!std::isnan(reduced.heat_capacity))
    species.heat_capacity_terms = terms_of(reduced.heat_capacities);
  return species;
}

}  // namespace

void reduce_species(const Records& records, Dataset& dataset) {
  Reducer reducer(records);
  dataset.components = reducer.components();
  for (const bool component : {true, false})
    for (const auto& entry : records.species.entries()) {
      const std::string& from = entry.value.constant_from;
      if (from == kNoConstant || (from == kComponent) != component) continue;
      Species species = finished(entry, reducer.reduce(entry.key));
      const auto* salt = records.salts.find(entry.key);
      if (std::isnan(species.density_g_per_cm3) && salt != nullptr)
        species.density_g_per_cm3 = salt->value.density_g_per_cm3;
      dataset.species.push_back(std::move(species));
    }
  dataset.figures.insert(dataset.figures.end(), reducer.estimates().begin(),
                         reducer.estimates().end());
}

}  // namespace aeruca::detail
