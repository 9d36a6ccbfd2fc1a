#include "aeruca/analysis.hpp"

#include "catch.hpp"
#include "reference.hpp"

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

// The ions H(+) and OH(-) lift 0.1 mol/kg by a millionth above the range that is claimed.
double conductivity(double molality) {
  WaterAnalysis analysis = neutral_water();
  for (const char* ion : {"potassium", "chloride"})
    analysis.ions.push_back({ion, amount(molality * (1 - 2e-6), "mol/kg")});
  const Conductivity found =
      solve(analyse(analysis, *default_dataset()), default_dataset()).conductivity;
  CHECK(found.figures.size() >= 3);
  return found.us_per_cm;
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
    const bool conducts = row.at("quantity") == "conductivity";
    const double ours = conducts
                            ? conductivity(number(row, "given"))
                            : (1 - kSeaSalts) * sea.input.totals_mol_per_kg.at(ingredient_named(
                                                    row.at("name"), *default_dataset()));
    const double published = number(row, "published");
    INFO(what);
    CHECK(aeruca_test::compare("Analyses and conductivity", what, ours, published, row) <=
          number(row, "tolerance_percent") / 100 * published);
  }
}
