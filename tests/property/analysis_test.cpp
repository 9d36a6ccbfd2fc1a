// Laws of an analysis, on random waters: it answers its titration, and no way of writing it
// matters.

#include "aeruca/analysis.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "aeruca/speciation.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

const std::vector<std::string> kIons = {"chloride",  "sulfate", "nitrate",   "sodium",
                                        "potassium", "calcium", "magnesium", "copper"};

class Waters {
 public:
  explicit Waters(unsigned long seed) : generator_(seed) {}

  // mmol/L from 1e-4 to 100 each, some ions absent; alkalinity 0.01 to 20 mmol/L.
  WaterAnalysis next() {
    WaterAnalysis analysis;
    for (const std::string& ion : kIons) {
      if (uniform(0, 1) < 0.3) continue;
      analysis.ions.push_back({ion, {value(std::pow(10, uniform(-4, 2))), "mmol/L"}});
    }
    analysis.alkalinity = {value(std::pow(10, uniform(-2, 1.3))), "mmol/L"};
    analysis.ph.value = uniform(4, 11);
    analysis.potential_mv = uniform(-200, 700);
    return analysis;
  }

  static Reading value(double number) { return {number, kNotGiven, kNotGiven}; }

 private:
  double uniform(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(generator_);
  }
  std::mt19937_64 generator_;
};

SolvedWater solved(const WaterAnalysis& analysis, bool all_solids = false) {
  EquilibriumOptions options;
  if (all_solids) options.precipitation = Precipitation::allowed;
  return solve(analyse(analysis, *default_dataset(), options), default_dataset());
}

// The same amounts in mg/L, by the names of the data set; carbonate words stay.
WaterAnalysis rewritten(WaterAnalysis analysis) {
  const Dataset& dataset = *default_dataset();
  for (AnalysedIon& ion : analysis.ions) {
    ion.name = ingredient_named(ion.name, dataset);
    ion.amount.reading.value *= dataset.at(ion.name).molar_mass_g_per_mol;
    ion.amount.unit = "mg/L";
  }
  std::reverse(analysis.ions.begin(), analysis.ions.end());
  const double mmol = analysis.alkalinity.reading.value;
  analysis.alkalinity = {Waters::value(mmol * 100.086 / 2), "mg/L as CaCO3"};
  return analysis;
}

}  // namespace

TEST_CASE("A solved water answers its titration, or says why none can") {
  Waters waters(20261126);
  int answered = 0;
  for (int trial = 0; trial < 300; ++trial) {
    CAPTURE(trial);
    const SolvedWater water = solved(waters.next());
    if (water.result.status != Status::converged) {
      CHECK(water.result.status == Status::infeasible);
      CHECK_FALSE(water.result.message.empty());
      continue;
    }
    ++answered;
    CHECK(water.alkalinity_mol_per_kg == Approx(*water.water.alkalinity_mol_per_kg).epsilon(1e-7));
    CHECK(water.result.certificate.holds());
  }
  CHECK(answered > 150);
}

TEST_CASE("Words, units and order of an analysis do not matter") {
  Waters waters(20261127);
  for (int trial = 0; trial < 100; ++trial) {
    CAPTURE(trial);
    const WaterAnalysis analysis = waters.next();
    const SolvedWater one = solved(analysis);
    const SolvedWater other = solved(rewritten(analysis));
    REQUIRE(one.result.status == other.result.status);
    for (const auto& [solid, index] : one.result.saturation_index)
      CHECK(other.result.saturation_index.at(solid) == Approx(index).margin(1e-4));
  }
}

TEST_CASE("The shares of every element add up, and what a solid needs brings it to saturation") {
  Waters waters(20261128);
  for (int trial = 0; trial < 100; ++trial) {
    CAPTURE(trial);
    const SolvedWater water = solved(waters.next(), true);
    if (water.result.status != Status::converged) continue;
    for (const ElementShares& element : shares_by_element(water.result, *default_dataset())) {
      double percent = 0;
      for (const ElementForm& form : element.forms) percent += form.percent;
      CHECK(percent == Approx(100));
      CHECK(std::is_sorted(element.forms.begin(), element.forms.end(),
                           [](const auto& a, const auto& b) { return a.percent > b.percent; }));
    }
    for (const SolidNeed& need : solid_needs(water.result, *default_dataset())) {
      CHECK((need.formed_mol_per_kg == 0 || std::abs(need.index) < 1e-6));
      for (const auto& [ingredient, factor] : need.needs) CHECK(factor > 1);
    }
  }
}

TEST_CASE("An imbalance given to an ion leaves none, whatever pairs the ion forms") {
  Waters waters(20261129);
  int answered = 0;
  for (int trial = 0; trial < 150; ++trial) {
    CAPTURE(trial);
    WaterAnalysis analysis = waters.next();
    analysis.charge_assigned_to = solved(analysis).charge.error_percent > 0 ? "chloride" : "sodium";
    const SolvedWater water = solved(analysis);
    if (water.result.status != Status::converged) continue;
    ++answered;
    CHECK(std::abs(water.result.charge_mol_per_kg) <
          1e-8 * (water.charge.cations + water.charge.anions));
    CHECK(water.alkalinity_mol_per_kg == Approx(*water.water.alkalinity_mol_per_kg).epsilon(1e-7));
  }
  CHECK(answered > 75);
}
