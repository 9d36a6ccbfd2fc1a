// The records of data/minerals.toml: field tests, groups of minerals that mean the same, minerals.

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.hpp"
#include "dataset/read_figures.hpp"

namespace aeruca::detail {
namespace {

[[noreturn]] void refuse(const Location& where, const std::string& field,
                         const std::string& problem) {
  throw FileError(where.file, where.line, field, problem);
}

std::vector<std::string> texts_or_none(Record& record, const char* field) {
  return record.has(field) ? record.texts(field) : std::vector<std::string>{};
}

Occurrence read_occurrence(Record& record) {
  const std::string word = record.text("on_copper");
  for (const auto one : {Occurrence::common, Occurrence::occasional, Occurrence::rare})
    if (to_string(one) == word) return one;
  record.fail("on_copper", "'" + word + "' is not known, accepted is common, occasional or rare");
}

double read_molar_mass(Record& record, const std::string& formula) {
  if (formula.empty()) return kNotGiven;
  try {
    return molar_mass_g_per_mol(parse_formula(formula));
  } catch (const InputError& problem) {
    record.fail("formula", problem.what());
  }
}

std::vector<Figure> read_density(Record& record, const std::string& mineral,
                                 const Defaults& defaults) {
  auto part = record.table("density");
  if (!part) return {};
  Figure figure = read_figure(*part, defaults, mineral + ".density", "g/cm3");
  figure.subject = mineral;
  figure.quantity = "density";
  figure.chosen = true;
  if (std::isnan(figure.value)) part->fail("value", "is missing, accepted is a number");
  part->within("value", figure.value, 0.5, 25);
  part->finish();
  return {figure};
}

// Outcome -> the test it belongs to.
std::map<std::string, std::string> outcomes_of(const Records& records) {
  std::map<std::string, std::string> outcomes;
  for (const auto& entry : records.field_tests.entries()) {
    need_source(records, entry.location, entry.value.source, "field_test '" + entry.key + "'");
    for (const std::string& outcome : entry.value.outcomes) {
      const auto [other, first] = outcomes.emplace(outcome, entry.key);
      if (!first)
        refuse(entry.location, "outcomes of field_test '" + entry.key + "'",
               "'" + outcome + "' is one of '" + other->second + "' already");
    }
  }
  return outcomes;
}

void check_outcomes(const Location& where, const Mineral& mineral,
                    const std::map<std::string, std::string>& known) {
  std::set<std::string> seen;
  for (const auto* list : {&mineral.usual, &mineral.possible}) {
    const std::string field = list == &mineral.usual ? "usual" : "possible";
    for (const std::string& outcome : *list) {
      if (!known.contains(outcome))
        refuse(where, field + " of mineral '" + mineral.name + "'",
               "no field test has the outcome '" + outcome + "'");
      if (!seen.insert(outcome).second)
        refuse(where, field + " of mineral '" + mineral.name + "'",
               "'" + outcome + "' is there twice");
    }
  }
}

// A solid of the data set must be the same substance here.
void check_formula(const Records& records, const Location& where, const Mineral& mineral) {
  const auto* species = records.species.find(mineral.name);
  if (species == nullptr || species->value.species.formula == mineral.formula) return;
  refuse(where, "formula of mineral '" + mineral.name + "'",
         "'" + mineral.formula + "' is not '" + species->value.species.formula +
             "', that of the species");
}

void add_group(const Records& records, const Location& where, Mineral& mineral) {
  const auto* group = records.mineral_groups.find(mineral.group);
  if (group == nullptr)
    refuse(where, "group of mineral '" + mineral.name + "'",
           "no mineral_group '" + mineral.group + "'");
  mineral.means = group->value.means;
  mineral.does_not_mean = group->value.does_not_mean;
  mineral.group_source = group->value.origin.source;
  mineral.group_place = group->value.origin.place;
  mineral.group_basis = group->value.origin.basis;
}

void add_density(const std::vector<Figure>& figures, const Location& where, Mineral& mineral) {
  const std::string id = mineral.name + ".density";
  for (const Figure& figure : figures) {
    if (figure.id != id) continue;
    if (!mineral.density_figure.empty())
      refuse(where, "density of mineral '" + mineral.name + "'",
             "stands with its species or salt already");
    mineral.density_figure = id;
    mineral.density_g_per_cm3 = figure.value;
    mineral.density_uncertainty = figure.uncertainty;
  }
}

}  // namespace

void read_field_test(Record& record, Records& records, const Defaults& defaults) {
  FieldTest test;
  test.id = record.text("id");
  record.call(test.id);
  test.question = record.text("question");
  test.outcomes = record.texts("outcomes");
  if (test.outcomes.size() < 2) record.fail("outcomes", "are fewer than two; accepted is a choice");
  test.how = record.text("how");
  test.misleads = record.text("misleads");
  test.caution = record.text("caution");
  Figure origin;
  read_origin(record, defaults, origin);
  test.source = origin.source;
  test.place = origin.place;
  test.basis = origin.basis;
  records.field_tests.put({test.id, test, {}, location(record, defaults)}, "field_test");
}

void read_mineral_group(Record& record, Records& records, const Defaults& defaults) {
  const std::string id = record.text("id");
  record.call(id);
  MineralGroupRecord group{record.text("means"), record.text("does_not_mean"), {}};
  read_origin(record, defaults, group.origin);
  records.mineral_groups.put({id, group, {}, location(record, defaults)}, "mineral_group");
}

void read_mineral(Record& record, Records& records, const Defaults& defaults) {
  Mineral mineral;
  mineral.name = record.text("name");
  record.call(mineral.name);
  mineral.also = texts_or_none(record, "also");
  mineral.formula = record.text_or("formula");
  mineral.molar_mass_g_per_mol = read_molar_mass(record, mineral.formula);
  mineral.group = record.text("group");
  mineral.colour = record.text("colour");
  mineral.habit = record.text("habit");
  mineral.usual = record.texts("usual");
  mineral.possible = texts_or_none(record, "possible");
  mineral.on_copper = read_occurrence(record);
  std::vector<Figure> density = read_density(record, mineral.name, defaults);
  Figure origin;
  read_origin(record, defaults, origin);
  mineral.note = origin.note;
  mineral.source = origin.source;
  mineral.place = origin.place;
  mineral.basis = origin.basis;
  records.minerals.put({mineral.name, mineral, std::move(density), location(record, defaults)},
                       "mineral");
}

std::vector<Mineral> assemble_minerals(const Records& records, const std::vector<Figure>& figures) {
  for (const auto& entry : records.mineral_groups.entries())
    need_source(records, entry.location, entry.value.origin.source,
                "mineral_group '" + entry.key + "'");
  const auto outcomes = outcomes_of(records);
  std::vector<Mineral> minerals;
  for (const auto& entry : records.minerals.entries()) {
    Mineral mineral = entry.value;
    need_source(records, entry.location, mineral.source, "mineral '" + mineral.name + "'");
    check_outcomes(entry.location, mineral, outcomes);
    check_formula(records, entry.location, mineral);
    add_group(records, entry.location, mineral);
    add_density(figures, entry.location, mineral);
    minerals.push_back(std::move(mineral));
  }
  return minerals;
}

}  // namespace aeruca::detail
