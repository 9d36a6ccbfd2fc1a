#include "aeruca/weigh_out.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"

// The one file of this part that uses the data set: formulas, atomic weights and solubilities only.

namespace aeruca {
namespace {

struct Ingredient {
  std::string name, formula;
};

struct Form {
  std::string name;                     // as the user gives it
  std::vector<Ingredient> ingredients;  // one mole of each makes one mole of the salt
};

struct BathSalt {
  std::string name, formula;  // the formula that percent counts
  double sodium = 1;          // per formula
  std::vector<Form> forms;
  std::vector<std::string> cautions;
  std::string
      saturated_with;  // the solid left undissolved at room temperature, as the data set names it
};

const std::string kMakeUp =
    "Percent w/v means grams in 100 mL of finished bath: dissolve in most of the water, then make "
    "up to the volume.";
const std::string kSheets =
    "This is arithmetic, not advice to treat: the safety data sheet, local rules and the "
    "conservator decide.";
const std::string kAlkali =
    "Alkaline: goggles and gloves, no dust; never in an aluminium vessel; dissolves lead, tin and "
    "zinc slowly; "
    "foams with acids.";
const std::string kCaustic =
    "Causes severe burns and heats on dissolving: face shield, eyewash in reach, add the solid "
    "slowly to cold water; "
    "never with aluminium, zinc, tin or lead (hydrogen).";
const std::string kHydrate =
    "The label must say which hydrate it is; crystals lose water in air and then make a stronger "
    "bath.";

const std::vector<BathSalt>& salts() {
  static const Ingredient soda_ash{"sodium carbonate, anhydrous", "Na2CO3"};
  static const Ingredient monohydrate{"sodium carbonate monohydrate", "Na2CO3.H2O"};
  static const Ingredient washing_soda{"sodium carbonate decahydrate (washing soda)",
                                       "Na2CO3.10H2O"};
  static const Ingredient bicarbonate{"sodium hydrogencarbonate (bicarbonate)", "NaHCO3"};
  static const Ingredient ready{"sodium sesquicarbonate dihydrate", "Na2CO3.NaHCO3.2H2O"};
  static const Ingredient caustic{"sodium hydroxide", "NaOH"};
  static const std::vector<BathSalt> all{
      {"sodium sesquicarbonate",
       ready.formula,
       3,
       {{"dihydrate", {ready}},
        {"anhydrous", {soda_ash, bicarbonate}},
        {"monohydrate", {monohydrate, bicarbonate}},
        {"decahydrate", {washing_soda, bicarbonate}}},
       {kAlkali, kHydrate, kMakeUp, kSheets},
       "trona"},
      {"sodium carbonate",
       soda_ash.formula,
       2,
       {{"anhydrous", {soda_ash}}, {"monohydrate", {monohydrate}}, {"decahydrate", {washing_soda}}},
       {kAlkali, kHydrate, kMakeUp, kSheets},
       "natron"},
      {"sodium bicarbonate",
       bicarbonate.formula,
       1,
       {{"anhydrous", {bicarbonate}}},
       {kMakeUp, kSheets},
       "nahcolite"},
      {"sodium hydroxide",
       caustic.formula,
       1,
       {{"pellets", {caustic}}},
       {kCaustic, kMakeUp, kSheets},
       ""}};
  return all;
}

double molar_mass(const std::string& formula) {
  return molar_mass_g_per_mol(parse_formula(formula));
}

template <class Item>
std::vector<std::string> names_of(const std::vector<Item>& items) {
  std::vector<std::string> names;
  names.reserve(items.size());
  for (const Item& item : items) names.push_back(item.name);
  return names;
}

template <class Item>
const Item& find(const std::vector<Item>& items, const std::string& kind, std::string_view name) {
  for (const Item& item : items) {
    if (item.name == name) return item;
  }
  const auto names = names_of(items);
  const std::string nearest = detail::nearest_name(name, names);
  if (!nearest.empty()) throw UnknownName(kind, std::string(name), nearest);
  throw InputError(kind, std::string(name), detail::join(names, ", "));
}

// In full, or without the "sodium " that all of them share.
const BathSalt& find_salt(std::string_view name) {
  for (const BathSalt& salt : salts()) {
    const std::string_view whole = salt.name;
    if (whole.substr(whole.find(' ') + 1) == name) return salt;
  }
  return find(salts(), "salt", name);
}

const Form& find_form(const BathSalt& salt, const std::string& name) {
  return name.empty() ? salt.forms.front() : find(salt.forms, "form", name);
}

void check(const WeighOutRequest& request, const BathSalt& salt) {
  const bool percent = request.unit == StrengthUnit::percent_w_v;
  const double most = percent ? 50 : 10;
  if (!(request.strength > 0 && request.strength <= most)) {
    throw InputError("strength", request.strength,
                     percent ? "above 0 to 50 % w/v" : "above 0 to 10 mol/L");
  }
  if (!(request.volume_l > 0 && request.volume_l <= 1e6)) {
    throw InputError("volume_l", request.volume_l, "above 0 to 1e+06 litres");
  }
  if (!(request.purity_percent > 0 && request.purity_percent <= 100)) {
    throw InputError("purity_percent", request.purity_percent, "above 0 to 100");
  }
  if (!(request.reagent_chloride_percent >= 0 && request.reagent_chloride_percent <= 1)) {
    throw InputError("reagent_chloride_percent", request.reagent_chloride_percent, "0 to 1");
  }
  if (request.form.empty() && salt.forms.size() > 1) {
    throw InputError(
        "form", "nothing",
        "what stands on the shelf, one of " + detail::join(names_of(salt.forms), ", "));
  }
}

// The weights worked out for `used` taken of another form instead; the first ingredient differs.
void add_form_traps(const BathSalt& salt, const Form& used, WeighOut& result) {
  for (const Form& other : salt.forms) {
    if (other.name == used.name || other.ingredients.size() != used.ingredients.size()) continue;
    const Ingredient& mine = used.ingredients.front();
    const Ingredient& theirs = other.ingredients.front();
    result.traps.push_back({"taking these grams of " + theirs.name + " in place of " + mine.name +
                                " (factor of its part of the bath)",
                            molar_mass(mine.formula) / molar_mass(theirs.formula)});
    result.traps.push_back({"following a recipe written for " + theirs.name + " with " + mine.name +
                                " (factor of its part of the bath)",
                            molar_mass(theirs.formula) / molar_mass(mine.formula)});
  }
}

void add_strength_traps(const BathSalt& salt, const Form& used, const WeighOutRequest& request,
                        WeighOut& result) {
  const double grams_per_l = 10 * result.percent_w_v;
  if (used.ingredients.size() == 2) {
    double sodium = 0;  // of the full weight of each ingredient
    for (const Ingredient& part : used.ingredients) {
      sodium += grams_per_l / molar_mass(part.formula) * (part.formula == "NaHCO3" ? 1 : 2);
    }
    result.traps.push_back({"taking " + detail::format_number(grams_per_l, 4) +
                                " g/L of each part instead of the shares above (counted as sodium)",
                            sodium / result.sodium_mol_per_l});
  }
  if (salt.sodium == 3 && request.unit == StrengthUnit::percent_w_v) {
    result.traps.push_back(
        {"taking a 0.1 mol/L recipe for this percentage", 0.1 / result.mol_per_l});
  }
}

}  // namespace

std::vector<std::string> bath_salts() {
  return names_of(salts());
}

std::vector<std::string> shelf_forms(std::string_view salt) {
  return names_of(find_salt(salt).forms);
}

BathSolubility bath_solubility(const Dataset& dataset, std::string_view name) {
  constexpr double kRoomC = 20;
  const BathSalt& salt = find_salt(name);
  BathSolubility result;
  result.solid = salt.saturated_with;
  result.most_mol_per_l = std::numeric_limits<double>::quiet_NaN();
  if (result.solid.empty()) return result;
  const std::string key = result.solid + ".solubility.";  // then "20C"
  double nearest = std::numeric_limits<double>::infinity();
  for (const Figure& figure : dataset.figures) {
    if (figure.id.rfind(key, 0) != 0 || figure.id.back() != 'C') continue;
    const std::string_view at = std::string_view(figure.id).substr(key.size());
    const auto temperature_c = detail::parse_number(at.substr(0, at.size() - 1));
    if (!temperature_c || std::abs(*temperature_c - kRoomC) >= nearest) continue;
    nearest = std::abs(*temperature_c - kRoomC);
    result.temperature_c = *temperature_c;
    result.most_mol_per_l =
        figure.unit == "g/L" ? figure.value / molar_mass(salt.formula) : figure.value;
    result.source = figure.source;
    result.basis = figure.basis;
    result.note = figure.note;
  }
  return result;
}

WeighOut weigh_out(const WeighOutRequest& request) {
  const BathSalt& salt = find_salt(request.salt);
  check(request, salt);
  const Form& form = find_form(salt, request.form);
  const double mass = molar_mass(salt.formula);
  WeighOut result;
  result.salt = salt.name;
  result.form = form.name;
  result.mol_per_l =
      request.unit == StrengthUnit::mol_per_l ? request.strength : 10 * request.strength / mass;
  result.percent_w_v = result.mol_per_l * mass / 10;
  result.sodium_mol_per_l = result.mol_per_l * salt.sodium;
  double grams = 0;
  for (const Ingredient& part : form.ingredients) {
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
  return result;
}

}  // namespace aeruca
