#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "dataset/records.hpp"

namespace aeruca::detail {
namespace {

std::vector<std::string> keys(const Table<Source>& table) {
  std::vector<std::string> names;
  for (const auto& entry : table.entries()) names.push_back(entry.key);
  return names;
}

std::vector<std::string> keys(const Table<SpeciesRecord>& table) {
  std::vector<std::string> names;
  for (const auto& entry : table.entries()) names.push_back(entry.key);
  return names;
}

std::string hint(const std::string& name, const std::vector<std::string>& known) {
  const std::string near = nearest_name(name, known);
  return near.empty() ? "" : "; nearest is '" + near + "'";
}

void need_species(const Records& records, const Location& where, const std::string& name,
                  const std::string& record) {
  if (records.species.find(name) != nullptr) return;
  throw FileError(where.file, where.line, record,
                  "no species '" + name + "'" + hint(name, keys(records.species)));
}

// The term of the water and element balance that is off, or empty.
std::string imbalance(const Records& records, const Terms& terms) {
  std::map<std::string, double> balance;
  double charge = 0;
  for (const auto& [name, coefficient] : terms) {
    const Species& species = records.species.find(name)->value.species;
    for (const auto& [element, atoms] : species.elements) balance[element] += coefficient * atoms;
    charge += coefficient * species.charge;
  }
  constexpr double kTolerance = 1e-9;
  for (const auto& [element, excess] : balance)
    if (std::abs(excess) > kTolerance) return element + " by " + format_number(excess);
  return std::abs(charge) > kTolerance ? "charge by " + format_number(charge) : "";
}

void check_reaction(const Records& records, const Table<ReactionRecord>::Entry& entry) {
  const std::string record = "equation of reaction '" + entry.key + "'";
  for (const auto& [name, coefficient] : entry.value.terms)
    need_species(records, entry.location, name, record);
  const std::string off = imbalance(records, entry.value.terms);
  if (!off.empty())
    throw FileError(entry.location.file, entry.location.line, record,
                    "'" + entry.value.figure.subject + "' does not balance: " + off +
                        " (products less reactants)");
}

void check_formation(const Records& records, const Table<SpeciesRecord>::Entry& entry) {
  const std::string record = "formation of species '" + entry.key + "'";
  for (const auto& [name, coefficient] : entry.value.formation)
    need_species(records, entry.location, name, record);
  const std::string off = imbalance(records, entry.value.formation);
  if (!off.empty())
    throw FileError(entry.location.file, entry.location.line, record, "does not balance: " + off);
}

void check_salt(const Records& records, const Table<Salt>::Entry& entry) {
  const std::string record = "dissolves_to of salt '" + entry.key + "'";
  Composition whole = parse_formula(entry.value.formula);
  std::map<std::string, double> balance;
  for (const auto& [element, atoms] : whole.elements) balance[element] -= atoms;
  balance["H"] += 2 * entry.value.waters;
  balance["O"] += entry.value.waters;
  double charge = 0;
  for (const auto& [ion, count] : entry.value.ions) {
    need_species(records, entry.location, ion, record);
    const Species& species = records.species.find(ion)->value.species;
    for (const auto& [element, atoms] : species.elements) balance[element] += count * atoms;
    charge += count * species.charge;
  }
  for (const auto& [element, excess] : balance)
    if (std::abs(excess) > 1e-9)
      throw FileError(entry.location.file, entry.location.line, record,
                      "ions and water do not add up to " + entry.value.formula + ": " + element +
                          " by " + format_number(excess));
  if (std::abs(charge) > 1e-9)
    throw FileError(entry.location.file, entry.location.line, record,
                    "the charges of the ions do not cancel");
  if (!entry.value.pitzer_set.empty() && records.pitzer.find(entry.value.pitzer_set) == nullptr)
    throw FileError(entry.location.file, entry.location.line,
                    "pitzer_set of salt '" + entry.key + "'",
                    "no Pitzer set '" + entry.value.pitzer_set + "'");
}

template <class Value>
void check_figures(const Records& records, const Table<Value>& table, const std::string& kind) {
  for (const auto& entry : table.entries())
    for (const Figure& figure : entry.figures)
      need_source(records, entry.location, figure.source, kind + " '" + entry.key + "'");
}

// At most one chosen set a pair, and exactly one when the pair is there at all.
template <class Entry>
void need_pair(const Records& records, const Entry& entry, const std::string& record) {
  for (const std::string& ion : {entry.value.cation, entry.value.anion})
    need_species(records, entry.location, ion, record);
  for (const std::string& complex : entry.value.complexes)
    need_species(records, entry.location, complex, "complexes of " + record);
}

void check_pitzer_choice(const Records& records) {
  std::map<std::string, const Table<PitzerBinary>::Entry*> chosen;
  for (const auto& entry : records.pitzer.entries()) {
    const std::string pair = entry.value.cation + " with " + entry.value.anion;
    if (!entry.value.chosen) continue;
    const auto [other, first] = chosen.emplace(pair, &entry);
    if (!first)
      throw FileError(entry.location.file, entry.location.line,
                      "chosen of pitzer '" + entry.key + "'",
                      "'" + other->second->key + "' is chosen for " + pair +
                          " already; accepted is one chosen set a pair");
  }
}

void check_choice_of_constants(const Records& records) {
  std::map<std::pair<std::string, std::string>, std::string> chosen;
  const auto choose = [&](const Figure& figure, const Location& where) {
    if (!figure.chosen) return;
    const auto [other, first] =
        chosen.emplace(std::pair{figure.subject, figure.quantity}, figure.id);
    if (!first)
      throw FileError(where.file, where.line, "chosen of '" + figure.id + "'",
                      "'" + other->second + "' is chosen for the " + figure.quantity + " of " +
                          figure.subject + " already; set chosen = false in one of them");
  };
  for (const auto& entry : records.reactions.entries()) choose(entry.value.figure, entry.location);
  for (const auto& entry : records.energies.entries()) choose(entry.value, entry.location);
}

struct Closure {
  double log10_k = 0;
  double variance = 0;
};

// log10 K of a reaction from the reduced constants; false when a species has none.
bool from_constants(const Dataset& dataset, const Terms& terms, Closure& sum) {
  std::map<std::string, double> combination;
  for (const auto& [name, coefficient] : terms) {
    if (!dataset.contains(name)) return false;
    const Species& species = dataset.at(name);
    sum.log10_k += coefficient * species.log10_k;
    for (const auto& [id, factor] : species.constant_terms) combination[id] += coefficient * factor;
  }
  for (const auto& [id, factor] : combination) {
    const double spread = dataset.figure(id).uncertainty;
    if (!std::isnan(spread)) sum.variance += std::pow(factor * spread, 2);
  }
  return true;
}

// log10 K of a reaction from the chosen formation energies; false when one is missing.
bool from_energies(const std::map<std::string, double>& energies, const Terms& terms,
                   double& log10_k) {
  double energy = 0;
  for (const auto& [name, coefficient] : terms) {
    const auto found = energies.find(name);
    if (found == energies.end()) return false;
    energy += coefficient * found->second;
  }
  log10_k = -1000 * energy / (kGasConstant * kReferenceTemperature * kLn10);
  return true;
}

[[noreturn]] void fail_closure(const Table<ReactionRecord>::Entry& entry, const std::string& what,
                               double other, double limit) {
  throw FileError(entry.location.file, entry.location.line, "value of reaction '" + entry.key + "'",
                  format_number(entry.value.figure.value) + " is off the cycle: " + what +
                      " give " + format_number(other, 5) + ", accepted is a difference of " +
                      format_number(limit, 3) +
                      " (3 combined uncertainties or closure_tolerance); replace what depends on "
                      "it too, or set chosen = false");
}

}  // namespace

void need_source(const Records& records, const Location& where, const std::string& key,
                 const std::string& record) {
  if (records.sources.find(key) != nullptr) return;
  throw FileError(where.file, where.line, "source of " + record,
                  "no entry '" + key + "' in the bibliography" + hint(key, keys(records.sources)));
}

void check_records(const Records& records) {
  for (const auto& entry : records.reactions.entries()) check_reaction(records, entry);
  for (const auto& entry : records.species.entries()) check_formation(records, entry);
  for (const auto& entry : records.energies.entries())
    need_species(records, entry.location, entry.value.subject,
                 "species of energy '" + entry.key + "'");
  for (const auto& entry : records.sit.entries())
    need_pair(records, entry, "sit '" + entry.key + "'");
  for (const auto& entry : records.pitzer.entries())
    need_pair(records, entry, "pitzer '" + entry.key + "'");
  for (const auto& entry : records.mixing.entries())
    for (const std::string& name : entry.value.species)
      need_species(records, entry.location, name, "species of mixing '" + entry.key + "'");
  for (const auto& entry : records.salts.entries()) check_salt(records, entry);
  check_figures(records, records.reactions, "reaction");
  check_figures(records, records.energies, "energy");
  check_figures(records, records.species, "species");
  check_figures(records, records.sit, "sit");
  check_figures(records, records.pitzer, "pitzer");
  check_figures(records, records.mixing, "mixing");
  check_figures(records, records.salts, "salt");
  check_figures(records, records.humidities, "humidity");
  check_figures(records, records.onset, "onset");
  check_figures(records, records.bath_salts, "bath_salt");
  check_figures(records, records.minerals, "mineral");
  check_figures(records, records.others, "figure");
  check_pitzer_choice(records);
  check_choice_of_constants(records);
}

void check_closure(const Records& records, const Dataset& dataset) {
  std::map<std::string, double> energies;
  for (const auto& entry : records.energies.entries())
    if (entry.value.chosen && entry.value.quantity == "gibbs_energy")
      energies[entry.value.subject] = entry.value.value;
  for (const auto& entry : records.reactions.entries()) {
    const Figure& figure = entry.value.figure;
    if (!figure.chosen || figure.quantity != "log10_k" || std::isnan(figure.value)) continue;
    const double own = std::isnan(figure.uncertainty) ? 0 : figure.uncertainty;
    Closure chain;
    if (from_constants(dataset, entry.value.terms, chain)) {
      const double limit =
          std::max(records.closure_tolerance, 3 * std::sqrt(chain.variance + own * own));
      if (std::abs(chain.log10_k - figure.value) > limit)
        fail_closure(entry, "the reduced constants", chain.log10_k, limit);
    }
    double by_energy = 0;
    if (from_energies(energies, entry.value.terms, by_energy)) {
      const double limit = std::max(records.closure_tolerance, 3 * own);
      if (std::abs(by_energy - figure.value) > limit)
        fail_closure(entry, "the chosen formation energies", by_energy, limit);
    }
  }
}

}  // namespace aeruca::detail
