#include "aeruca/analysis.hpp"

#include <map>

#include "catch.hpp"
#include "reference.hpp"
#include "sea_water.hpp"

using namespace aeruca;
using aeruca_test::number;

namespace {

Amount amount(double value, const char* unit) {
  return {{value, kNotGiven, kNotGiven}, unit};
}

WaterAnalysis neutral_water() {
  WaterAnalysis analysis;
  analysis.ph.value = 7;
  return analysis;
}

struct Dissolved {
  double molar_mass;  // g/mol
  std::map<std::string, double> ions;
};

const Dissolved& salt(const std::string& name) {
  static const std::map<std::string, Dissolved> known = {
      {"KCl", {74.551, {{"K(+)", 1}, {"Cl(-)", 1}}}},
      {"NH4Cl", {53.491, {{"NH4(+)", 1}, {"Cl(-)", 1}}}},
      {"(NH4)2SO4", {132.14, {{"NH4(+)", 2}, {"SO4(2-)", 1}}}},
      {"CaCl2", {110.98, {{"Ca(2+)", 1}, {"Cl(-)", 2}}}},
      {"MgCl2", {95.211, {{"Mg(2+)", 1}, {"Cl(-)", 2}}}},
      {"MgSO4", {120.37, {{"Mg(2+)", 1}, {"SO4(2-)", 1}}}}};
  return known.at(name);
}

// The ions H(+) and OH(-) lift 1 mol/kg by a millionth above the range that is claimed.
std::map<std::string, double> of_salt(const std::string& name, double molality) {
  std::map<std::string, double> totals;
  for (const auto& [ion, count] : salt(name).ions) totals[ion] = count * molality * (1 - 2e-6);
  return totals;
}

double molality_of_percent(const std::string& name, double percent) {
  return 1000 * percent / (100 - percent) / salt(name).molar_mass;
}

double conductivity(const std::map<std::string, double>& totals) {
  WaterAnalysis analysis = neutral_water();
  for (const auto& [ion, molality] : totals) {
    if (ion != "CO3(2-)") analysis.ions.push_back({ion, amount(molality, "mol/kg")});
  }
  const Conductivity found =
      solve(analyse(analysis, *default_dataset()), default_dataset()).conductivity;
  INFO(found.said);
  CHECK(found.figures.size() >= 3);
  return found.us_per_cm;
}

double conductivity(const aeruca_test::Row& row) {
  const std::string& name = row.at("name");
  const double given = number(row, "given");
  if (name == "sea water") return conductivity(aeruca_test::sea_water(given));
  const bool in_percent = row.at("quantity") == "conductivity_of_percent";
  return conductivity(of_salt(name, in_percent ? molality_of_percent(name, given) : given));
}

WaterAnalysis sea_water(const std::vector<aeruca_test::Row>& rows) {
  WaterAnalysis analysis = neutral_water();
  for (const auto& row : rows) {
    if (row.at("quantity") == "sea_water")
      analysis.ions.push_back({row.at("name"), amount(number(row, "given"), "g/kg")});
  }
  return analysis;
}

constexpr double kSeaSalts = 0.03516504;  // kg per kg, Millero et al. 2008

}  // namespace

TEST_CASE("An analysis agrees with published figures") {
  const auto rows = aeruca_test::reference_rows("analysis.csv");
  const AnalysedWater sea = analyse(sea_water(rows), *default_dataset());
  for (const auto& row : rows) {
    const std::string what = row.at("quantity") + " " + row.at("name") + " " + row.at("given");
    const bool conducts = row.at("quantity").starts_with("conductivity");
    const double ours = conducts
                            ? conductivity(row)
                            : (1 - kSeaSalts) * sea.input.totals_mol_per_kg.at(ingredient_named(
                                                    row.at("name"), *default_dataset()));
    const double published = number(row, "published");
    INFO(what);
    CHECK(aeruca_test::compare("Analyses and conductivity", what, ours, published, row) <=
          number(row, "tolerance_percent") / 100 * published);
  }
}
