#include "analysis/amount.hpp"

#include <algorithm>
#include <utility>

#include "aeruca/water.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace detail {
namespace {

using Kind = AmountUnit::Kind;

const std::vector<std::pair<std::string, AmountUnit>>& unit_table() {
  static const std::vector<std::pair<std::string, AmountUnit>> table{
      {"mol/L", {Per::litre, Kind::mol, 1}},
      {"mmol/L", {Per::litre, Kind::mol, 1e-3}},
      {"umol/L", {Per::litre, Kind::mol, 1e-6}},
      {"meq/L", {Per::litre, Kind::equivalent, 1e-3}},
      {"g/L", {Per::litre, Kind::gram, 1}},
      {"mg/L", {Per::litre, Kind::gram, 1e-3}},
      {"ug/L", {Per::litre, Kind::gram, 1e-6}},
      {"mol/kg", {Per::kg_water, Kind::mol, 1}},
      {"mmol/kg", {Per::kg_water, Kind::mol, 1e-3}},
      {"umol/kg", {Per::kg_water, Kind::mol, 1e-6}},
      {"g/kg", {Per::kg_solution, Kind::gram, 1}},
      {"mg/kg", {Per::kg_solution, Kind::gram, 1e-3}},
      {"ug/kg", {Per::kg_solution, Kind::gram, 1e-6}},
      {"ppm", {Per::kg_solution, Kind::gram, 1e-3}},
  };
  return table;
}

// "mg/l" and the micro sign are the same units.
std::string plain(std::string unit) {
  if (unit.ends_with("/l")) unit.back() = 'L';
  for (const std::string_view micro : {"\xC2\xB5", "\xCE\xBC"}) {
    if (unit.starts_with(micro)) unit.replace(0, micro.size(), "u");
  }
  return unit;
}

double grams_per_mol(std::string_view formula) {
  return molar_mass_g_per_mol(parse_formula(formula));
}

}  // namespace

AmountUnit amount_unit(const std::string& unit, const std::string& parameter) {
  const std::string wanted = plain(unit);
  for (const auto& [name, meaning] : unit_table()) {
    if (name == wanted) return meaning;
  }
  throw InputError(parameter, unit.empty() ? "no unit" : unit,
                   "an amount in " + join(amount_units(), ", "));
}

Told told_of(double value, const std::string& unit, const Species& species,
             const std::string& parameter) {
  const AmountUnit meaning = amount_unit(unit, parameter);
  const double amount = meaning.factor * value;
  double mol = amount;
  if (meaning.kind == Kind::gram) mol = amount / species.molar_mass_g_per_mol;
  if (meaning.kind == Kind::equivalent) {
    if (species.charge == 0)
      throw InputError(parameter, unit, "another unit, for " + species.name + " carries no charge");
    mol = amount / std::abs(species.charge);
  }
  return {meaning.per, mol, mol * species.molar_mass_g_per_mol / 1000};
}

Told alkalinity_told(double value, const std::string& unit, const Dataset& dataset) {
  constexpr std::string_view kAs = " as ";
  const std::size_t at = unit.find(kAs);
  const std::string written = at == std::string::npos ? "HCO3" : unit.substr(at + kAs.size());
  if (written != "HCO3" && written != "HCO3(-)" && written != "CaCO3") {
    throw InputError("alkalinity", unit, "an amount as HCO3 (bare mg/L is that) or as CaCO3");
  }
  const AmountUnit meaning = amount_unit(unit.substr(0, at), "alkalinity");
  const double as_bicarbonate = dataset.at("HCO3(-)").molar_mass_g_per_mol;
  // One CaCO3 takes two of acid.
  const double equivalents_per_gram =
      written == "CaCO3" ? 2 / grams_per_mol("CaCO3") : 1 / as_bicarbonate;
  const double amount = meaning.factor * value;
  const bool mol_of_calcite = written == "CaCO3" && meaning.kind == Kind::mol;
  const double equivalents = meaning.kind == Kind::gram ? amount * equivalents_per_gram
                                                        : (mol_of_calcite ? 2 : 1) * amount;
  return {meaning.per, equivalents, equivalents * as_bicarbonate / 1000};
}

WaterContent water_content(const std::vector<Told>& amounts, const WaterAnalysis& analysis) {
  double a = 0;  // kg per litre
  double b = 0;  // kg per kg of solution
  double c = 0;  // kg per kg of water
  for (const Told& amount : amounts) {
    (amount.per == Per::litre ? a : amount.per == Per::kg_solution ? b : c) += amount.kg;
  }
  WaterContent content;
  if (analysis.density_kg_per_l) {
    const double density = *analysis.density_kg_per_l;
    content.kg_per_l = (density - a - b * density) / (1 + c);
    content.kg_per_kg = content.kg_per_l / density;
    if (!(content.kg_per_l > 0)) {
      throw InputError("density_kg_per_l", density, "more than what is dissolved in a litre");
    }
    return content;
  }
  content.kg_per_l = density_kg_per_m3(analysis.temperature_c) / 1000;
  if (!(b < 1)) throw InputError("ions", 1000 * b, "less than 1000 g per kg of the solution");
  const double dissolved_per_kg_water = (a / content.kg_per_l + b + c) / (1 - b);
  content.kg_per_kg = 1 / (1 + dissolved_per_kg_water);
  return content;
}

double molality(const Told& amount, const WaterContent& content) {
  if (amount.per == Per::kg_water) return amount.mol;
  return amount.mol / (amount.per == Per::litre ? content.kg_per_l : content.kg_per_kg);
}

}  // namespace detail

const std::vector<std::string>& amount_units() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const auto& [name, meaning] : detail::unit_table()) all.push_back(name);
    return all;
  }();
  return names;
}

bool is_amount_unit(const std::string& unit) {
  const auto& names = amount_units();
  return std::find(names.begin(), names.end(), detail::plain(unit)) != names.end();
}

std::optional<Amount> parse_amount(std::string_view text) {
  text = detail::trim(text);
  // The unit begins at the first letter or micro sign after a space.
  std::size_t at = std::string_view::npos;
  for (std::size_t i = 1; i < text.size() && at == std::string_view::npos; ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == 0xCE ||
                        text.substr(i).starts_with("\xC2\xB5");
    if (letter && text[i - 1] == ' ') at = i;
  }
  const auto reading = parse_reading(text.substr(0, at));
  if (!reading) return std::nullopt;
  const std::string unit = at == std::string_view::npos ? "" : std::string(text.substr(at));
  return Amount{*reading, unit};
}

Amount amount_from(std::string_view text, const std::string& parameter) {
  const auto amount = parse_amount(text);
  if (amount && !amount->unit.empty()) return *amount;
  throw InputError(parameter, std::string(text),
                   "an amount with its unit, such as \"640 mg/L\", \"640 +/- 30 mg/L\" or "
                   "\"< 5 mg/L\"");
}

Reading reading_from(std::string_view text, const std::string& parameter) {
  if (const auto reading = parse_reading(text)) return *reading;
  throw InputError(parameter, std::string(text), "a reading such as 6.4 or \"6.4 +/- 0.1\"");
}

}  // namespace aeruca
