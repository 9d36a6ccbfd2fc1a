// The records of data/bath_salts.toml, and the salts they make together.

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "dataset/read_figures.hpp"

namespace aeruca::detail {
namespace {

Location location(const Record& record, const Defaults& defaults) {
  return {record.file(), record.line(), defaults.generation};
}

std::vector<std::string> texts_or_none(Record& record, const char* field) {
  return record.has(field) ? record.texts(field) : std::vector<std::string>{};
}

// Elements and charge of a formula or of an ion, times a count.
void add_atoms(std::map<std::string, double>& sum, const std::string& name, double count) {
  const Composition composition = parse_formula(name);
  for (const auto& [element, atoms] : composition.elements) sum[element] += count * atoms;
  sum["charge"] += count * composition.charge;
}

void check_balanced(Record& record, const char* field, const Terms& terms) {
  std::map<std::string, double> sum;
  try {
    for (const auto& [name, count] : terms) add_atoms(sum, name, count);
  } catch (const InputError& problem) {
    record.fail(field, problem.what());
  }
  for (const auto& [element, excess] : sum) {
    if (std::abs(excess) > 1e-9)
      record.fail(field, "is off by " + format_number(excess) + " " + element +
                             ", accepted is an equation that balances");
  }
}

[[noreturn]] void refuse(const Location& where, const std::string& field,
                         const std::string& problem) {
  throw FileError(where.file, where.line, field, problem);
}

// One mole of each reagent against one mole of the salt; water may differ.
void check_form(const Location& where, const BathSalt& salt, const ShelfForm& form) {
  std::map<std::string, double> sum;
  add_atoms(sum, salt.formula, -1);
  for (const BathReagent& reagent : form.reagents) add_atoms(sum, reagent.formula, 1);
  const double water = sum["O"];
  sum["O"] -= water;
  sum["H"] -= 2 * water;
  for (const auto& [element, excess] : sum) {
    if (std::abs(excess) > 1e-9)
      refuse(where, "reagents of bath_form '" + form.name + "' of " + salt.name,
             "make " + format_number(excess) + " " + element +
                 " more than the salt; accepted are reagents that make it, but for water");
  }
}

}  // namespace

void read_bath_reagent(Record& record, Records& records, const Defaults& defaults) {
  BathReagent reagent;
  reagent.name = record.text("name");
  record.call(reagent.name);
  reagent.also = texts_or_none(record, "also");
  reagent.formula = record.text("formula");
  try {
    static_cast<void>(parse_formula(reagent.formula));
  } catch (const InputError& problem) {
    record.fail("formula", problem.what());
  }
  records.bath_reagents.put({reagent.name, reagent, {}, location(record, defaults)},
                            "bath_reagent");
}

void read_bath_caution(Record& record, Records& records, const Defaults& defaults) {
  const std::string id = record.text("id");
  record.call(id);
  records.bath_cautions.put({id, record.text("text"), {}, location(record, defaults)},
                            "bath_caution");
}

void read_bath_salt(Record& record, Records& records, const Defaults& defaults) {
  BathSalt salt;
  salt.name = record.text("name");
  record.call(salt.name);
  salt.also = texts_or_none(record, "also");
  salt.formula = record.text("formula");
  const Terms terms = read_terms(record, "dissolves", record.text("dissolves"));
  check_balanced(record, "dissolves", terms);
  for (const auto& [name, count] : terms) {
    if (count > 0 && name != "H2O") salt.ions.emplace_back(name, count);
  }
  salt.saturated_with = record.text_or("saturated_with");
  salt.usual_mol_per_l =
      record.within("usual_mol_per_l", record.number_or("usual_mol_per_l"), 0, 10);
  salt.cautions = texts_or_none(record, "cautions");
  records.bath_salts.put({salt.name, salt, {}, location(record, defaults)}, "bath_salt");
}

void read_bath_form(Record& record, Records& records, const Defaults& defaults) {
  const std::string id = record.text("id");
  record.call(id);
  ShelfFormRecord form{record.text("salt"), record.text("name"), record.texts("reagents")};
  if (form.reagents.empty()) record.fail("reagents", "is empty, accepted is one reagent or more");
  records.bath_forms.put({id, form, {}, location(record, defaults)}, "bath_form");
}

std::vector<BathSalt> assemble_bath_salts(const Records& records) {
  std::vector<BathSalt> salts;
  for (const auto& entry : records.bath_salts.entries()) {
    BathSalt salt = entry.value;
    for (std::string& caution : salt.cautions) {
      const auto* found = records.bath_cautions.find(caution);
      if (found == nullptr)
        refuse(entry.location, "cautions of bath_salt '" + salt.name + "'",
               "no bath_caution '" + caution + "'");
      caution = found->value;
    }
    salts.push_back(std::move(salt));
  }
  for (const auto& entry : records.bath_forms.entries()) {
    const auto salt = std::find_if(salts.begin(), salts.end(), [&](const BathSalt& one) {
      return one.name == entry.value.salt;
    });
    if (salt == salts.end())
      refuse(entry.location, "salt of bath_form '" + entry.key + "'",
             "no bath_salt '" + entry.value.salt + "'");
    ShelfForm form{entry.value.name, {}};
    for (const std::string& name : entry.value.reagents) {
      const auto* found = records.bath_reagents.find(name);
      if (found == nullptr)
        refuse(entry.location, "reagents of bath_form '" + entry.key + "'",
               "no bath_reagent '" + name + "'");
      form.reagents.push_back(found->value);
    }
    check_form(entry.location, *salt, form);
    salt->forms.push_back(std::move(form));
  }
  for (const BathSalt& salt : salts) {
    if (salt.forms.empty())
      refuse(records.bath_salts.find(salt.name)->location, "bath_salt '" + salt.name + "'",
             "has no bath_form, accepted is one or more");
  }
  return salts;
}

}  // namespace aeruca::detail
