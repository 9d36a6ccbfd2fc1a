#include "dataset/read_figures.hpp"

#include <array>
#include <cmath>

#include "base/text.hpp"

namespace aeruca::detail {
namespace {

struct QuantityRule {
  std::string_view name;
  std::string_view unit;
  double limit;  // of the absolute value
};

constexpr std::array kReactionQuantities{QuantityRule{"log10_k", "1", 200},
                                         QuantityRule{"enthalpy", "kJ/mol", 3000},
                                         QuantityRule{"heat_capacity", "J/(mol K)", 3000}};
constexpr std::array kEnergyQuantities{
    QuantityRule{"gibbs_energy", "kJ/mol", 10000}, QuantityRule{"enthalpy", "kJ/mol", 10000},
    QuantityRule{"entropy", "J/(mol K)", 2000}, QuantityRule{"heat_capacity", "J/(mol K)", 2000}};

template <std::size_t Count>
const QuantityRule& find_rule(Record& record, const std::array<QuantityRule, Count>& rules) {
  const std::string quantity = record.text("quantity");
  std::vector<std::string> names;
  for (const QuantityRule& rule : rules) {
    if (rule.name == quantity) return rule;
    names.emplace_back(rule.name);
  }
  record.fail("quantity", "'" + quantity + "' is not known, accepted is " + join(names, ", "));
}

template <std::size_t Count>
Figure read_constant(Record& record, const Defaults& defaults,
                     const std::array<QuantityRule, Count>& rules) {
  const std::string id = record.text("id");
  record.call(id);
  const QuantityRule& rule = find_rule(record, rules);
  Figure figure = read_figure(record, defaults, id, std::string(rule.unit));
  figure.quantity = rule.name;
  record.within("value", figure.value, -rule.limit, rule.limit);
  if (figure.chosen && std::isnan(figure.value))
    record.fail("chosen", "is true but there is no value");
  return figure;
}

PhaseKind kind_of(const std::string& name, bool has_formula) {
  if (name == "H2O") return PhaseKind::solvent;
  if (name == "e(-)") return PhaseKind::electron;
  if (name.size() > 3 && name.substr(name.size() - 3) == "(g)") return PhaseKind::gas;
  return has_formula ? PhaseKind::solid : PhaseKind::aqueous;
}

// `CuCl2(-)` -> `CuCl2`: without phase and charge, which the last parentheses hold.
std::string bare_formula(const std::string& name) {
  const std::size_t open = name.rfind('(');
  if (open == std::string::npos || open == 0) return name;
  const char first = name[open + 1];
  const bool suffix = first == '+' || first == '-' || (first >= '0' && first <= '9') ||
                      (first >= 'a' && first <= 'z');
  return suffix ? name.substr(0, open) : name;
}

void set_composition(Record& record, Species& species) {
  const std::string formula = species.kind == PhaseKind::solid ? species.formula : species.name;
  try {
    Composition composition = parse_formula(formula);
    species.charge = composition.charge;
    species.molar_mass_g_per_mol = molar_mass_g_per_mol(composition);
    species.elements = std::move(composition.elements);
  } catch (const InputError& problem) {
    record.fail(species.kind == PhaseKind::solid ? "formula" : "name", problem.what());
  }
}

void read_density(Record& record, const Defaults& defaults, Species& species,
                  std::vector<Figure>& figures) {
  species.density_g_per_cm3 = std::nan("");
  auto density = record.table("density");
  if (!density) return;
  Figure figure = read_figure(*density, defaults, species.name + ".density", "g/cm3");
  figure.subject = species.name;
  figure.quantity = "density";
  figure.chosen = true;
  density->within("value", figure.value, 0.5, 25);
  density->finish();
  species.density_g_per_cm3 = figure.value;
  figures.push_back(figure);
}

void read_colour(Record& record, Species& species) {
  species.colour = record.text_or("colour");
  const std::size_t size = species.colour.size();
  if (species.colour.empty()) return;
  const std::string_view code =
      size < 8 ? std::string_view() : std::string_view(species.colour).substr(size - 7);
  if (code.substr(0, 1) != "#" ||
      code.find_first_not_of("0123456789abcdef", 1) != std::string_view::npos)
    record.fail("colour", "'" + species.colour +
                              "' ends in no colour, accepted is words and #rrggbb in lower case");
}

}  // namespace

Location location(const Record& record, const Defaults& defaults) {
  return {record.file(), record.line(), defaults.generation};
}

Basis read_basis(Record& record) {
  const std::string word = record.text("basis");
  for (const Basis basis : {Basis::looked_up, Basis::memory, Basis::derived, Basis::estimated})
    if (word == to_string(basis)) return basis;
  record.fail("basis",
              "'" + word + "' is not known, accepted is looked-up, memory, derived or estimated");
}

Terms read_terms(Record& record, const char* field, const std::string& equation) {
  try {
    return parse_equation(equation);
  } catch (const InputError& problem) {
    record.fail(field, problem.what());
  }
}

Figure read_figure(Record& record, const Defaults& defaults, const std::string& id,
                   const std::string& unit) {
  Figure figure;
  figure.id = id;
  figure.value = record.number_or("value");
  figure.unit = record.text_or("unit", unit);
  if (figure.unit != unit)
    record.fail("unit",
                "'" + figure.unit + "' is not the unit of this quantity, accepted is " + unit);
  figure.uncertainty = record.within("uncertainty", record.number_or("uncertainty"), 0, 1e4);
  read_origin(record, defaults, figure);
  figure.chosen = record.flag_or("chosen", false);
  return figure;
}

void read_origin(Record& record, const Defaults& defaults, Figure& figure) {
  figure.conditions = record.text_or("conditions", defaults.conditions);
  figure.source = record.text("source");
  figure.place = record.text_or("place");
  figure.basis = read_basis(record);
  figure.reason = record.text_or("reason");
  figure.note = record.text_or("note");
  figure.file = record.file();
  figure.line = record.line();
}

void read_species(Record& record, Records& records, const Defaults& defaults) {
  SpeciesRecord read;
  Species& species = read.species;
  species.name = record.text("name");
  record.call(species.name);
  species.formula = record.text_or("formula");
  species.kind = kind_of(species.name, !species.formula.empty());
  if (species.formula.empty()) species.formula = bare_formula(species.name);
  species.title = record.text("title");
  set_composition(record, species);
  read.constant_from = record.text("constant_from");
  const std::string formation = record.text_or("formation");
  if ((read.constant_from == kEnergies) != !formation.empty())
    record.fail("formation",
                "is the equation from components that constant_from = \"energies\" needs, and "
                "nothing else");
  if (!formation.empty()) read.formation = read_terms(record, "formation", formation);
  species.slow_to_form = record.text_or("slow_to_form");
  species.proton_partner = record.text_or("proton_partner");
  read_colour(record, species);
  std::vector<Figure> figures;
  read_density(record, defaults, species, figures);
  records.species.put(
      {species.name, read, figures, {record.file(), record.line(), defaults.generation}},
      "species");
}

void read_reaction(Record& record, Records& records, const Defaults& defaults) {
  ReactionRecord read;
  read.figure = read_constant(record, defaults, kReactionQuantities);
  read.figure.subject = record.text("equation");
  read.terms = read_terms(record, "equation", read.figure.subject);
  records.reactions.put(
      {read.figure.id, read, {read.figure}, {record.file(), record.line(), defaults.generation}},
      "reaction");
}

void read_energy(Record& record, Records& records, const Defaults& defaults) {
  Figure figure = read_constant(record, defaults, kEnergyQuantities);
  figure.subject = record.text("species");
  records.energies.put(
      {figure.id, figure, {figure}, {record.file(), record.line(), defaults.generation}}, "energy");
}

}  // namespace aeruca::detail
