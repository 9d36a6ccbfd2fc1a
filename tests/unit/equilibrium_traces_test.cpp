// Traces beside moles, where more than one element can give electrons. Each of these waters once had
// an answer that its certificate refused, or one that was right to three figures only.

#include <cmath>
#include <map>
#include <string>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

EquilibriumResult conserved(std::map<std::string, double> totals,
                            std::vector<std::string> solids = {}, double ph = 7) {
  EquilibriumOptions options;
  options.activity = ActivityModel::ideal;
  options.redox = Redox::conserved;
  if (!solids.empty()) options.precipitation = Precipitation::allowed;
  options.allowed_solids = std::move(solids);
  EquilibriumInput input;
  input.ph = ph;
  input.totals_mol_per_kg = std::move(totals);
  return Equilibrium(default_dataset(), options).solve(input);
}

double dissolved_copper(const EquilibriumResult& water) {
  double sum = 0;
  for (const char* name : {"Cu(+)", "Cu(2+)", "CuOH(aq)", "Cu(OH)2(-)", "CuOH(+)", "Cu(OH)2(aq)"})
    sum += water.molality_of(name);
  return sum;
}

}  // namespace

TEST_CASE("a trace of copper metal beside moles of tin oxides is told from copper") {
  for (const double trace : {1e-9, 1e-11, 1e-13}) {
    const auto water =
        conserved({{"Sn(2+)", 8.0}, {"copper", trace}}, {"copper", "cassiterite", "romarchite"});
    REQUIRE(water.status == Status::converged);
    CHECK(std::abs((water.formed().at("copper") + dissolved_copper(water)) / trace - 1) < 1e-9);
  }
}

TEST_CASE("a trace of metal is told from copper though tin gives as few electrons") {
  const double trace = 5.2279062545524808e-09;
  const auto water = conserved({{"Sn(2+)", 0.46}, {"Cu(+)", 1.66e-12}, {"copper", trace}},
                               {"copper", "cassiterite"}, 9);
  REQUIRE(water.status == Status::converged);
  CHECK(std::abs(water.formed().at("copper") / (trace + 1.66e-12) - 1) < 1e-4);
}

TEST_CASE("a trace of cassiterite in strong tin chloride is told from the electrons it took") {
  const auto water = conserved({{"Sn(2+)", 0.13}, {"Cl(-)", 4.5}}, {"cassiterite"}, -0.3);
  REQUIRE(water.status == Status::converged);
  double tin_four = water.formed().at("cassiterite");
  for (const char* name : {"Sn(4+)", "Sn(OH)4(aq)", "Sn(OH)5(-)", "Sn(OH)6(2-)"})
    tin_four += water.molality_of(name);
  CHECK(tin_four < 1e-6);
  CHECK(std::abs(water.molality_of("H2(aq)") / tin_four - 1) < 1e-9);
}

TEST_CASE("copper(II) beside moles of copper(I) is as much as hydrogen says") {
  const auto water = conserved({{"Cu(+)", 2.3}, {"HS(-)", 8.4}}, {}, 2.25);
  REQUIRE(water.status == Status::converged);
  const double two = water.molality_of("Cu(2+)") + water.molality_of("CuOH(+)");
  CHECK(two < 1e-9);
  CHECK(std::abs(2 * water.molality_of("H2(aq)") / two - 1) < 1e-6);
}
