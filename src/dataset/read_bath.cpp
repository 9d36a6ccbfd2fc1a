// The records of data/bath_salts.toml, and the salts they make together.

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "dataset/read_figures.hpp"

namespace aeruca::detail {
namespace {

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

// What a name means, of the salts or of the forms of one salt: a name that means two things would
// silently take the first.
class Names {
 public:
  void add(const Location& where, const std::string& field, const std::string& name,
           const std::string& meaning) {
    const auto [other, first] = meaning_.emplace(name, meaning);
    if (first || other->second == meaning) return;
    refuse(where, field,
           "'" + name + "' means " + other->second + " already; accepted is a name of " + meaning +
               " alone");
  }

 private:
  std::map<std::string, std::string> meaning_;
};

void check_names(const Records& records, const std::vector<BathSalt>& salts) {
  Names salt_names;
  for (const BathSalt& salt : salts) {
    const Location& where = records.bath_salts.find(salt.name)->location;
    const std::string record = " of bath_salt '" + salt.name + "'";
    salt_names.add(where, "name" + record, salt.name, salt.name);
    for (const std::string& name : salt.also)
      salt_names.add(where, "also" + record, name, salt.name);
    Names form_names;
    for (const ShelfForm& form : salt.forms) {
      const BathReagent& first = form.reagents.front();
      form_names.add(where, "forms" + record, form.name, form.name);
      form_names.add(where, "forms" + record, first.name, form.name);
      for (const std::string& name : first.also)
        form_names.add(where, "forms" + record, name, form.name);
    }
  }
}

void check_saturated(const Records& records, const Location& where, const BathSalt& salt) {
  if (salt.saturated_with.empty() || records.salts.find(salt.saturated_with) != nullptr) return;
  refuse(where, "saturated_with of bath_salt '" + salt.name + "'",
         "no salt '" + salt.saturated_with + "'");
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

double read_usual_strength(Record& record, const std::string& salt, const Defaults& defaults,
                           std::vector<Figure>& figures) {
  auto part = record.table("usual_strength");
  if (!part) return std::nan("");
  Figure figure = read_figure(*part, defaults, salt + ".usual_strength", "mol/L");
  figure.subject = salt;
  figure.quantity = "usual strength";
  if (std::isnan(figure.value)) part->fail("value", "is missing, accepted is a number");
  part->within("value", figure.value, 0, 10);
  part->finish();
  figures.push_back(figure);
  return figure.value;
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
  Figure origin;
  read_origin(record, defaults, origin);
  records.bath_cautions.put(
      {id, {record.text("text"), origin.source}, {}, location(record, defaults)}, "bath_caution");
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
  std::vector<Figure> figures;
  salt.usual_mol_per_l = read_usual_strength(record, salt.name, defaults, figures);
  salt.cautions = texts_or_none(record, "cautions");
  Figure origin;
  read_origin(record, defaults, origin);
  records.bath_salts.put(
      {salt.name, {salt, origin.source}, std::move(figures), location(record, defaults)},
      "bath_salt");
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
    BathSalt salt = entry.value.salt;
    need_source(records, entry.location, entry.value.source, "bath_salt '" + salt.name + "'");
    check_saturated(records, entry.location, salt);
    for (std::string& caution : salt.cautions) {
      const auto* found = records.bath_cautions.find(caution);
      if (found == nullptr)
        refuse(entry.location, "cautions of bath_salt '" + salt.name + "'",
               "no bath_caution '" + caution + "'");
      need_source(records, found->location, found->value.source, "bath_caution '" + caution + "'");
      caution = found->value.text;
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
  check_names(records, salts);
  return salts;
}

}  // namespace aeruca::detail
