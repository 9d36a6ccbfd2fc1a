#include <cmath>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "catch.hpp"
#include "dataset/records.hpp"
#include "reference.hpp"
#include "source_tree.hpp"

using namespace aeruca;
using Catch::Matchers::WithinAbs;

namespace {

double log10_k_at(const Dataset& dataset, const std::string& equation, double temperature_c) {
  double sum = 0;
  for (const auto& [name, coefficient] : detail::parse_equation(equation))
    sum += coefficient * dataset.log10_k(dataset.at(name), temperature_c);
  return sum;
}

double electrons(const std::string& equation) {
  double count = 0;
  for (const auto& [name, coefficient] : detail::parse_equation(equation))
    if (name == "e(-)") count = -coefficient;
  return count;
}

double computed(const Dataset& dataset, const std::string& quantity, const std::string& equation,
                double temperature_c = 25) {
  const double log10_k = log10_k_at(dataset, equation, temperature_c);
  if (quantity == "potential") return nernst_slope_v(temperature_c) * log10_k / electrons(equation);
  return quantity == "half_log10_k" ? -log10_k : log10_k;
}

void check_standing(const aeruca_test::Row& row, double off) {
  if (row.at("standing") == "disagrees") {
    CHECK(off >= aeruca_test::number(row, "low"));
    CHECK(off <= aeruca_test::number(row, "high"));
  } else {
    CHECK(std::abs(off) <= aeruca_test::number(row, "tolerance"));
  }
}

}  // namespace

TEST_CASE("lines and potentials stand where they were published, or off by what is known") {
  const auto dataset = default_dataset();
  const auto all = aeruca_test::reference_rows("dataset.csv");
  REQUIRE(all.size() > 30);
  for (const auto& row : all) {
    INFO(row.at("equation") << " (" << row.at("source") << ")");
    const double published = aeruca_test::number(row, "value");
    const double ours = computed(*dataset, row.at("quantity"), row.at("equation"));
    aeruca_test::compare("Constants and potentials at 25 C", row.at("equation"), ours, published,
                         row);
    check_standing(row, ours - published);
  }
}

TEST_CASE("constants away from 25 C stand as measured, or off by what is known") {
  const auto dataset = default_dataset();
  for (const auto& row : aeruca_test::reference_rows("temperature.csv")) {
    const std::string what = row.at("equation") + " at " + row.at("temperature_c") + " C";
    INFO(what);
    const double published = aeruca_test::number(row, "value");
    const double ours = computed(*dataset, row.at("quantity"), row.at("equation"),
                                 aeruca_test::number(row, "temperature_c"));
    aeruca_test::compare("Constants and potentials away from 25 C", what, ours, published, row);
    check_standing(row, ours - published);
  }
}

TEST_CASE("atomic weights agree with the older table of full digits") {
  const auto rows = aeruca_test::reference_rows("atomic_weights.csv");
  REQUIRE(rows.size() == 35);
  for (const auto& row : rows) {
    INFO(row.at("element"));
    const double ours = molar_mass_g_per_mol(parse_formula(row.at("element")));
    const double published = aeruca_test::number(row, "g_per_mol");
    aeruca_test::compare("Atomic weights, g/mol", row.at("element"), ours, published, row);
    CHECK_THAT(ours, WithinAbs(published, aeruca_test::number(row, "tolerance")));
  }
}

TEST_CASE("the three redox lines of trihydroxychloride meet on the nantokite-cuprite boundary") {
  // At a(Cl-) = 1 the first two lines of section c3 meet at pH 5.915, E 0.2511 V.
  const auto dataset = default_dataset();
  const double slope = nernst_slope_v(25);
  const double first = computed(*dataset, "potential",
                                "clinoatacamite + 3 H(+) + Cl(-) + 2 e(-) = 2 nantokite + 3 H2O");
  const double second =
      computed(*dataset, "potential", "clinoatacamite + H(+) + 2 e(-) = cuprite + Cl(-) + 2 H2O");
  const double ph = (first - second) / slope;  // 1.5 slope pH less 0.5 slope pH
  CHECK_THAT(ph, WithinAbs(5.915, 0.01));
  CHECK_THAT(first - 1.5 * slope * ph, WithinAbs(0.2511, 0.001));
  CHECK_THAT(
      ph, WithinAbs(-log10_k_at(*dataset, "nantokite + 0.5 H2O = 0.5 cuprite + H(+) + Cl(-)", 25),
                    1e-9));
}

TEST_CASE("copper over tenorite and cuprite against pH") {
  // Section e5, derived there from the same constants: log10 of total dissolved copper, tolerance
  // 0.02.
  const auto dataset = default_dataset();
  const std::vector<std::pair<double, double>> tenorite{{5, -2.36},  {6, -4.35},  {7, -6.31},
                                                        {8, -7.92},  {9, -8.47},  {10, -8.41},
                                                        {11, -7.86}, {12, -6.92}, {13, -5.72}};
  const std::vector<std::pair<double, double>> cuprite{{6, -6.81},  {7, -7.75},  {8, -8.40},
                                                       {9, -8.58},  {10, -8.55}, {11, -8.20},
                                                       {12, -7.39}, {13, -6.41}};
  const auto total = [&](const std::vector<std::string>& species, const std::string& solid,
                         double ph) {
    const std::size_t copper = dataset->component_index("Cu(2+)");
    const std::size_t electron = dataset->component_index("e(-)");
    const Species& phase = dataset->at(solid);
    double sum = 0;
    for (const std::string& name : species) {
      const Species& one = dataset->at(name);
      const double share = one.components[copper] / phase.components[copper];
      REQUIRE_THAT(one.components[electron], WithinAbs(share * phase.components[electron], 1e-12));
      const double protons = one.components[dataset->component_index("H(+)")] -
                             share * phase.components[dataset->component_index("H(+)")];
      sum +=
          one.components[copper] * std::pow(10, one.log10_k - share * phase.log10_k - protons * ph);
    }
    return std::log10(sum);
  };
  for (const auto& [ph, expected] : tenorite)
    CHECK_THAT(total({"Cu(2+)", "CuOH(+)", "Cu(OH)2(aq)", "Cu(OH)3(-)", "Cu(OH)4(2-)", "Cu2OH(3+)",
                      "Cu2(OH)2(2+)", "Cu3(OH)4(2+)"},
                     "tenorite", ph),
               WithinAbs(expected, 0.02));
  for (const auto& [ph, expected] : cuprite)
    CHECK_THAT(total({"Cu(+)", "CuOH(aq)", "Cu(OH)2(-)"}, "cuprite", ph),
               WithinAbs(expected, 0.02));
}

TEST_CASE("the carbonate constants follow the equations of Plummer and Busenberg from 0 to 50 C") {
  // Looked-up equations, good to about 0.01; constant heat capacity costs at most 0.005 at the
  // ends.
  const auto dataset = default_dataset();
  for (int celsius = 0; celsius <= 50; celsius += 5) {
    const double t = celsius + 273.15;
    const double kh =
        108.3865 + 0.01985076 * t - 6919.53 / t - 40.45154 * std::log10(t) + 669365 / (t * t);
    const double k1 =
        -356.3094 - 0.06091964 * t + 21834.37 / t + 126.8339 * std::log10(t) - 1684915 / (t * t);
    const double k2 =
        -107.8871 - 0.03252849 * t + 5151.79 / t + 38.92561 * std::log10(t) - 563713.9 / (t * t);
    CHECK_THAT(log10_k_at(*dataset, "CO2(g) = CO2(aq)", celsius), WithinAbs(kh, 0.005));
    CHECK_THAT(log10_k_at(*dataset, "CO2(aq) + H2O = HCO3(-) + H(+)", celsius),
               WithinAbs(k1, 0.005));
    CHECK_THAT(log10_k_at(*dataset, "HCO3(-) = CO3(2-) + H(+)", celsius), WithinAbs(k2, 0.005));
  }
}
