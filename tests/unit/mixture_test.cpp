// Mixtures of salts at every humidity: solids, brine, and the proof that there is none.

#include "aeruca/mixture.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "catch.hpp"
#include "equilibrium/dry.hpp"
#include "equilibrium/workplace.hpp"

using namespace aeruca;

namespace {

using Ions = std::map<std::string, double>;

std::vector<double> every(double step) {
  std::vector<double> rh;
  for (double r = 5; r <= 98; r += step) rh.push_back(r);
  return rh;
}

double onset_of(const Ions& ions, const MixtureOptions& options = {}) {
  const MixtureSweep sweep = SaltMixture(default_dataset(), ions, options).sweep(every(3));
  return sweep.mutual_deliquescence_rh_percent;
}

const std::vector<Ions>& mixtures() {
  static const std::vector<Ions> all{
      {{"Na(+)", 2}, {"K(+)", 1}, {"Cl(-)", 3}},
      {{"Na(+)", 1}, {"K(+)", 1}, {"Cl(-)", 1}, {"NO3(-)", 1}},
      {{"Na(+)", 1}, {"K(+)", 2}, {"Cl(-)", 1.5}, {"NO3(-)", 1.5}},
      {{"K(+)", 1}, {"NO3(-)", 1}, {"NH4(+)", 2}, {"SO4(2-)", 1}},
      {{"Ca(2+)", 1}, {"Cl(-)", 2}, {"Na(+)", 1}, {"SO4(2-)", 0.5}},
      {{"Na(+)", 1},
       {"Mg(2+)", 0.5},
       {"Ca(2+)", 0.3},
       {"Cl(-)", 1.2},
       {"SO4(2-)", 0.2},
       {"NO3(-)", 1}},
      {{"Na(+)", 2}, {"Mg(2+)", 1}, {"SO4(2-)", 2}},
      {{"Na(+)", 1}, {"Cu(2+)", 1}, {"Cl(-)", 3}},
  };
  return all;
}

}  // namespace

TEST_CASE("one salt deliquesces where its constant says, by both ways of working it out") {
  for (const auto& [name, ions] :
       std::map<std::string, Ions>{{"halite", {{"Na(+)", 1}, {"Cl(-)", 1}}},
                                   {"sylvite", {{"K(+)", 1}, {"Cl(-)", 1}}},
                                   {"niter", {{"K(+)", 1}, {"NO3(-)", 1}}},
                                   {"mirabilite", {{"Na(+)", 2}, {"SO4(2-)", 1}}},
                                   {"epsomite", {{"Mg(2+)", 1}, {"SO4(2-)", 1}}},
                                   {"bischofite", {{"Mg(2+)", 1}, {"Cl(-)", 2}}}}) {
    INFO(name);
    CHECK(std::abs(onset_of(ions) -
                   deliquescence(*default_dataset(), name).rh_from_constant_percent) < 0.05);
  }
}

// Each with its source; the disagreement of the nitrates is known and kept: no mixing terms for
// brines so strong.
TEST_CASE("mutual humidities are those that were measured, or off by what is known") {
  struct Measured {
    const char* what;
    Ions ions;
    double rh, low, high;  // computed less measured lies between
  };
  const std::vector<Measured> all{
      {"halite+sylvite, Tang and Munkelwitz 1993",
       {{"Na(+)", 1}, {"K(+)", 1}, {"Cl(-)", 2}},
       72.7,
       -1,
       1},
      {"halite+nitratine, Tang and Munkelwitz 1993",
       {{"Na(+)", 2}, {"Cl(-)", 1}, {"NO3(-)", 1}},
       68.0,
       -1,
       1},
      {"halite+nitratine, Gupta and others 2015",
       {{"Na(+)", 3}, {"Cl(-)", 1}, {"NO3(-)", 2}},
       67.9,
       -1,
       1},
      {"nitratine+niter, Adams and Merz 1929",
       {{"Na(+)", 1}, {"K(+)", 1}, {"NO3(-)", 2}},
       64.5,
       3,
       6},
  };
  for (const Measured& one : all) {
    const double off = onset_of(one.ions) - one.rh;
    INFO(one.what << ": off by " << off);
    CHECK(off > one.low);
    CHECK(off < one.high);
  }
}

TEST_CASE("a salt that makes others of the one that is there can raise the onset") {
  const double alone = onset_of({{"Ca(2+)", 1}, {"Cl(-)", 2}});
  const double with_sulfate = onset_of({{"Ca(2+)", 1}, {"Cl(-)", 2}, {"Na(+)", 2}, {"SO4(2-)", 1}});
  CHECK(alone < 30);
  CHECK(with_sulfate > 74.5);  // gypsum or anhydrite, and halite
}

TEST_CASE("a salt that leaves the others in place lowers the onset, in whatever proportion") {
  const double halite = onset_of({{"Na(+)", 1}, {"Cl(-)", 1}});
  double first = 0;
  for (const double k : {0.1, 1.0, 8.0}) {
    const double both = onset_of({{"Na(+)", 1}, {"K(+)", k}, {"Cl(-)", 1 + k}});
    CHECK(both < halite - 2);
    if (first > 0) CHECK(std::abs(both - first) < 0.002);
    first = both;
  }
}

TEST_CASE("every state is certified, keeps the phase rule and holds what was given") {
  for (const Ions& ions : mixtures()) {
    const SaltMixture mixture(default_dataset(), ions);
    for (const double rh : every(1.7)) {
      const MixtureState state = mixture.at(rh);
      INFO(ions.begin()->first << " and " << ions.size() - 1 << " more at " << rh << ": "
                               << state.message);
      REQUIRE(state.status == Status::converged);
      CHECK(state.solids.size() + (state.brine ? 2 : 1) <= ions.size());
      Ions held;
      for (const auto& [name, moles] : state.solids) {
        const Species& solid = default_dataset()->at(name);
        for (const auto& [ion, given] : ions)
          held[ion] += moles * solid.components[default_dataset()->component_index(ion)];
      }
      for (const auto& [ion, m] : state.brine_molality) held[ion] += m * state.water_kg;
      for (const auto& [ion, moles] : ions) CHECK(std::abs(held[ion] / moles - 1) < 1e-8);
    }
  }
}

// By the activity model alone: no random brine, of these salts in any proportion and strength, costs
// less than nothing to make out of the solids and the air.
TEST_CASE("where no brine is said to form, none of many lowers the Gibbs energy") {
  std::mt19937_64 random(11);
  const auto between = [&](double a, double b) {
    return std::uniform_real_distribution<>(a, b)(random);
  };
  int proven = 0;
  for (const Ions& ions : mixtures()) {
    EquilibriumOptions options;
    options.activity = ActivityModel::pitzer;
    options.solvent = Solvent::water_activity;
    options.precipitation = Precipitation::allowed;
    EquilibriumInput input;
    input.ph = 5;
    input.eh_v = 0.4;
    for (const auto& [name, moles] : ions) {
      options.components.push_back(name);
      input.totals_mol_per_kg[name] = moles;
    }
    const auto dataset = default_dataset();
    const detail::WaterSystem system = detail::make_system(dataset, options);
    const auto activity = make_activity(ActivityModel::pitzer, *dataset, options.components, 25);
    for (const double aw : {0.15, 0.4, 0.6, 0.66}) {
      input.water_activity = aw;
      detail::Water water;
      detail::fill_water(system, detail::totals_of(system, input), detail::held_of(system, input),
                         water);
      const detail::DryWater dry = detail::solve_dry(system, water, std::log(aw));
      if (dry.status != Status::converged || dry.to_end_of_range) continue;
      ++proven;
      std::vector<double> lambda;
      for (const std::string& name : options.components) {
        for (std::size_t j = 0; j < water.column.size(); ++j) {
          if (system.columns[water.column[j]] == name) lambda.push_back(dry.lambda[j]);
        }
      }
      double least = 1e300;
      for (int turn = 0; turn < 3000; ++turn) {
        std::vector<double> m(lambda.size());
        std::vector<double> charge(2, 0);
        for (std::size_t i = 0; i < m.size(); ++i) {
          m[i] = std::pow(10, between(-3, 0));
          const int z = dataset->at(options.components[i]).charge;
          charge[z > 0 ? 0 : 1] += std::abs(z) * m[i];
        }
        const double strength = std::pow(10, between(-1, 0.9));
        for (std::size_t i = 0; i < m.size(); ++i)
          m[i] *= strength / charge[dataset->at(options.components[i]).charge > 0 ? 0 : 1];
        ActivityValues values;
        activity->evaluate(m, values);
        double cost = (values.ln_water_activity - std::log(aw)) / 0.01801528;
        for (std::size_t i = 0; i < m.size(); ++i)
          cost += m[i] * (std::log(m[i]) + values.ln_gamma[i] - lambda[i]);
        least = std::min(least, cost);
      }
      INFO(ions.begin()->first << " and " << ions.size() - 1 << " more at " << aw);
      CHECK(least > -1e-6);
    }
  }
  CHECK(proven > 12);
}

TEST_CASE("solids that stand on an estimated heat are named, at 25 degrees C none") {
  const auto told = [](double temperature_c) {
    MixtureOptions options;
    options.temperature_c = temperature_c;
    const SaltMixture salts(default_dataset(), {{"K(+)", 2}, {"Ca(2+)", 1}, {"SO4(2-)", 2}},
                            options);
    const std::vector<double> humidities = {30, 60, 90};
    const auto sweep = salts.sweep(humidities);
    return std::any_of(sweep.warnings.begin(), sweep.warnings.end(), [](const auto& warning) {
      return warning.find("estimated by a rule") != std::string::npos &&
             warning.find("syngenite") != std::string::npos;
    });
  };
  CHECK(told(15));
  CHECK_FALSE(told(25));
}

TEST_CASE("bad ions and humidities are refused by name") {
  const auto make = [](Ions ions) { return SaltMixture(default_dataset(), std::move(ions)); };
  CHECK_THROWS_WITH(make({{"Na(+)", 1}, {"Cl(-)", 2}}),
                    "ions = -1 mol of charge left: accepted is amounts whose charges cancel");
  CHECK_THROWS_WITH(make({{"Na(+)", -1}, {"Cl(-)", -1}}),
                    "ions, Cl(-) = -1: accepted is an amount above 0 mol");
  CHECK_THROWS_WITH(make({{"Na(+)", 2}, {"CO3(2-)", 1}}),
                    "ions = CO3(2-): accepted is an ion whose salts trade no acid with the air");
  CHECK_THROWS_AS(make({{"Na(+)", 1}, {"Chloride", 1}}), UnknownName);
  const SaltMixture salt = make({{"Na(+)", 1}, {"Cl(-)", 1}});
  CHECK_THROWS_WITH(salt.at(100), "rh_percent = 100: accepted is above 0 and below 100 % RH");
  CHECK_THROWS_AS(salt.sweep(std::vector<double>{50, 40}), InputError);
}
