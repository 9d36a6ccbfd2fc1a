#include "aeruca/weigh_out.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "aeruca/not_given.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

// The one file of this part that uses the data set: bath salts, formulas and solubilities only.

namespace aeruca {
namespace {

double molar_mass(const std::string& formula) {
  return molar_mass_g_per_mol(parse_formula(formula));
}

double atoms(const std::string& formula, std::string_view element) {
  for (const auto& [symbol, count] : parse_formula(formula).elements) {
    if (symbol == element) return count;
  }
  return 0;
}

template <class Item>
std::vector<std::string> names_of(const std::vector<Item>& items) {
  std::vector<std::string> names;
  names.reserve(items.size());
  for (const Item& item : items) names.push_back(item.name);
  return names;
}

// By its name, what follows "sodium ", or another name of it.
bool answers_to(const std::string& name, const std::vector<std::string>& also,
                std::string_view given) {
  return name == given || std::string_view(name).substr(name.find(' ') + 1) == given ||
         std::find(also.begin(), also.end(), given) != also.end();
}

[[noreturn]] void refuse(const std::string& kind, std::string_view given,
                         const std::vector<std::string>& known) {
  const std::string nearest = detail::nearest_name(given, known);
  if (!nearest.empty()) throw UnknownName(kind, std::string(given), nearest);
  throw InputError(kind, std::string(given), detail::join(known, ", "));
}

// By its name, or by a name of the first reagent, with which the label on the shelf is read.
const ShelfForm& find_form(const BathSalt& salt, const std::string& name) {
  if (name.empty()) return salt.forms.front();
  for (const ShelfForm& form : salt.forms) {
    const BathReagent& first = form.reagents.front();
    if (form.name == name || first.name == name ||
        std::find(first.also.begin(), first.also.end(), name) != first.also.end())
      return form;
  }
  refuse("form", name, names_of(salt.forms));
}

// What names one hydrate stands on the shelf: as the salt it would leave open whether a percentage
// counts its water.
void refuse_hydrate(const Dataset& dataset, std::string_view name) {
  for (const BathSalt& salt : dataset.bath_salts) {
    for (const ShelfForm& form : salt.forms) {
      const BathReagent& first = form.reagents.front();
      const auto& also = first.also;
      if (first.name != name && std::find(also.begin(), also.end(), name) == also.end()) continue;
      if (first.formula == salt.formula || form.reagents.size() > 1) continue;
      throw InputError("salt", std::string(name),
                       "the salt whose grams the strength counts: " + salt.name + ", with form " +
                           form.name + " for what stands on the shelf");
    }
  }
}

void check_strength(double strength, StrengthUnit unit) {
  const bool percent = unit == StrengthUnit::percent_w_v;
  if (strength > 0 && strength <= (percent ? 50 : 10)) return;
  throw InputError("strength", strength, percent ? "above 0 to 50 % w/v" : "above 0 to 10 mol/L");
}

void check(const WeighOutRequest& request, const BathSalt& salt) {
  check_strength(request.strength, request.unit);
  if (!(request.volume_l > 0 && request.volume_l <= 1e6)) {
    throw InputError("volume_l", request.volume_l, "above 0 to 1e+06 litres");
  }
  if (!(request.purity_percent > 0 && request.purity_percent <= 100)) {
    throw InputError("purity_percent", request.purity_percent, "above 0 to 100");
  }
  if (!(request.reagent_chloride_percent >= 0 && request.reagent_chloride_percent <= 1)) {
    throw InputError("reagent_chloride_percent", request.reagent_chloride_percent, "0 to 1");
  }
  if (!(request.temperature_c >= 0 && request.temperature_c <= 50)) {
    throw InputError("temperature_c", request.temperature_c, "0 to 50 degrees C");
  }
  if (request.form.empty() && salt.forms.size() > 1) {
    throw InputError(
        "form", "nothing",
        "what stands on the shelf, one of " + detail::join(names_of(salt.forms), ", "));
  }
}

// The weights worked out for `used` taken of another form instead; the first ingredient differs.
void add_form_traps(const BathSalt& salt, const ShelfForm& used, WeighOut& result) {
  for (const ShelfForm& other : salt.forms) {
    if (other.name == used.name || other.reagents.size() != used.reagents.size()) continue;
    const BathReagent& mine = used.reagents.front();
    const BathReagent& theirs = other.reagents.front();
    result.traps.push_back(
        {detail::say("weigh.trap.same_grams", {{"other", theirs.name}, {"meant", mine.name}}),
         molar_mass(mine.formula) / molar_mass(theirs.formula)});
    result.traps.push_back(
        {detail::say("weigh.trap.other_recipe", {{"other", theirs.name}, {"taken", mine.name}}),
         molar_mass(theirs.formula) / molar_mass(mine.formula)});
  }
}

void add_strength_traps(const BathSalt& salt, const ShelfForm& used, const WeighOutRequest& request,
                        WeighOut& result) {
  const double grams_per_l = 10 * result.percent_w_v;
  if (used.reagents.size() == 2) {
    double sodium = 0;  // of the full weight of each ingredient
    for (const BathReagent& part : used.reagents) {
      sodium += grams_per_l / molar_mass(part.formula) * atoms(part.formula, "Na");
    }
    result.traps.push_back({detail::say("weigh.trap.full_weight_each",
                                        {{"g_per_l", detail::format_number(grams_per_l, 4)}}),
                            sodium / result.sodium_mol_per_l});
  }
  if (!std::isnan(salt.usual_mol_per_l) && request.unit == StrengthUnit::percent_w_v) {
    result.traps.push_back(
        {detail::say("weigh.trap.usual_strength",
                     {{"mol_per_l", detail::format_number(salt.usual_mol_per_l)}}),
         salt.usual_mol_per_l / result.mol_per_l});
  }
}

std::string percent_and_molar(double mol_per_l, double mass) {
  return detail::format_number(mol_per_l * mass / 10, 3) + " % w/v (" +
         detail::format_number(mol_per_l, 3) + " mol/L)";
}

void judge_solubility(const Dataset& dataset, const BathSalt& salt, double temperature_c,
                      WeighOut& result) {
  result.solubility = bath_solubility(dataset, salt.name, temperature_c);
  const BathSolubility& limit = result.solubility;
  if (std::isnan(limit.most_mol_per_l)) {
    result.solubility_words = detail::say("weigh.solubility.not_known", {{"salt", salt.name}});
    return;
  }
  result.dissolves = result.mol_per_l <= limit.most_mol_per_l ? Dissolves::yes : Dissolves::no;
  result.solubility_words =
      detail::say(result.dissolves == Dissolves::yes ? "weigh.solubility.dissolves"
                                                     : "weigh.solubility.too_strong",
                  {{"temperature_c", detail::format_number(limit.temperature_c)},
                   {"strength", percent_and_molar(limit.most_mol_per_l, molar_mass(salt.formula))},
                   {"solid", limit.solid},
                   {"source", limit.source},
                   {"basis", std::string(to_string(limit.basis))}});
}

}  // namespace

std::string_view to_string(Dissolves dissolves) {
  if (dissolves == Dissolves::yes) return "yes";
  return dissolves == Dissolves::no ? "no" : "not known";
}

const BathSalt& bath_salt(const Dataset& dataset, std::string_view name) {
  for (const BathSalt& salt : dataset.bath_salts) {
    if (answers_to(salt.name, salt.also, name)) return salt;
  }
  refuse_hydrate(dataset, name);
  refuse("salt", name, bath_salts(dataset));
}

bool is_plain_water(std::string_view name) {
  constexpr std::array<std::string_view, 6> kNames{
      "water",           "deionised water",     "deionized water",
      "distilled water", "demineralised water", "demineralized water"};
  return std::find(kNames.begin(), kNames.end(), name) != kNames.end();
}

double strength_mol_per_l(const Dataset& dataset, std::string_view salt, double percent_w_v) {
  check_strength(percent_w_v, StrengthUnit::percent_w_v);
  return 10 * percent_w_v / molar_mass(bath_salt(dataset, salt).formula);
}

double bath_sodium_mg_per_l(const Dataset& dataset, std::string_view salt, double mol_per_l) {
  const double sodium = atoms(bath_salt(dataset, salt).formula, "Na");
  return 1000 * mol_per_l * sodium * dataset.at("Na(+)").molar_mass_g_per_mol;
}

std::vector<std::string> bath_salts(const Dataset& dataset) {
  return names_of(dataset.bath_salts);
}

std::vector<std::string> shelf_forms(const Dataset& dataset, std::string_view salt) {
  return names_of(bath_salt(dataset, salt).forms);
}

BathSolubility bath_solubility(const Dataset& dataset, std::string_view name, double celsius) {
  const BathSalt& salt = bath_salt(dataset, name);
  BathSolubility result;
  result.solid = salt.saturated_with;
  result.most_mol_per_l = kNotGiven;
  if (result.solid.empty()) return result;
  const std::string key = result.solid + ".solubility.";  // then "20C"
  double nearest = std::numeric_limits<double>::infinity();
  for (const Figure& figure : dataset.figures) {
    if (figure.id.rfind(key, 0) != 0 || figure.id.back() != 'C') continue;
    const std::string_view at = std::string_view(figure.id).substr(key.size());
    const auto temperature_c = detail::parse_number(at.substr(0, at.size() - 1));
    if (!temperature_c || std::abs(*temperature_c - celsius) >= nearest) continue;
    nearest = std::abs(*temperature_c - celsius);
    result.temperature_c = *temperature_c;
    result.most_mol_per_l =
        figure.unit == "g/L" ? figure.value / molar_mass(salt.formula) : figure.value;
    result.source = figure.source;
    result.basis = figure.basis;
    result.note = figure.note;
  }
  return result;
}

WeighOut weigh_out(const Dataset& dataset, const WeighOutRequest& request) {
  const BathSalt& salt = bath_salt(dataset, request.salt);
  check(request, salt);
  const ShelfForm& form = find_form(salt, request.form);
  const double mass = molar_mass(salt.formula);
  WeighOut result;
  result.salt = salt.name;
  result.form = form.name;
  result.mol_per_l = request.unit == StrengthUnit::mol_per_l
                         ? request.strength
                         : strength_mol_per_l(dataset, salt.name, request.strength);
  result.percent_w_v = result.mol_per_l * mass / 10;
  result.sodium_mol_per_l = result.mol_per_l * atoms(salt.formula, "Na");
  double grams = 0;
  for (const BathReagent& part : form.reagents) {
    const double part_mass = molar_mass(part.formula);
    const double wanted =
        result.mol_per_l * request.volume_l * part_mass * 100 / request.purity_percent;
    result.reagents.push_back({part.name, part.formula, part_mass, wanted});
    grams += wanted;
  }
  result.blank_mg_per_l = grams * request.reagent_chloride_percent / 100 * 1000 / request.volume_l;
  add_form_traps(salt, form, result);
  add_strength_traps(salt, form, request, result);
  result.cautions = salt.cautions;
  judge_solubility(dataset, salt, request.temperature_c, result);
  return result;
}

}  // namespace aeruca
