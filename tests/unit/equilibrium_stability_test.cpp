// What is a solution and what only looks like one: wrong roots, and waters that cannot be.

#include <cmath>
#include <string>

#include "aeruca/equilibrium.hpp"
#include "aeruca/water.hpp"
#include "catch.hpp"
#include "equilibrium/impossible.hpp"
#include "equilibrium/stability.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

EquilibriumResult solve(ActivityModel model, std::map<std::string, double> totals,
                        Starts starts = Starts::as_needed) {
  EquilibriumOptions options;
  options.activity = model;
  options.starts = starts;
  options.precipitation = Precipitation::allowed;
  options.inert = default_dataset()->without_proton_partner();
  EquilibriumInput input;
  input.ph = 7;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = std::move(totals);
  return Equilibrium(default_dataset(), options).solve(input);
}

double amount_of(const EquilibriumResult& result, const std::string& solid) {
  for (std::size_t s = 0; s < result.allowed_solids.size(); ++s) {
    if (result.allowed_solids[s] == solid) return result.solid_mol_per_kg[s];
  }
  return -1;
}

}  // namespace

TEST_CASE(
    "bischofite beyond its solubility stays a solid and does not dissolve again at 15 mol/kg") {
  const auto saturated = solve(ActivityModel::pitzer, {{"bischofite", 10}});
  REQUIRE(saturated.status == Status::converged);
  for (const double moles : {15.0, 20.0, 30.0}) {
    const auto result = solve(ActivityModel::pitzer, {{"bischofite", moles}});
    CAPTURE(moles, result.message);
    REQUIRE(result.status == Status::converged);
    CHECK(std::abs(result.water_activity / saturated.water_activity - 1) < 1e-9);
    CHECK(std::abs(amount_of(result, "bischofite") - amount_of(saturated, "bischofite") -
                   (moles - 10)) < 1e-7);
  }
}

// Beyond saturation a second, metastable answer without epsomite stands beside the one with it.
TEST_CASE(
    "of two answers for more epsomite than dissolves the one of lower Gibbs energy is given") {
  const auto saturated = solve(ActivityModel::dilute, {{"epsomite", 8}});
  REQUIRE(amount_of(saturated, "epsomite") > 1);
  for (const double moles : {12.0, 16.0, 40.0}) {
    const auto result = solve(ActivityModel::dilute, {{"epsomite", moles}});
    CAPTURE(moles, result.message);
    REQUIRE(result.status == Status::converged);
    CHECK(std::abs(result.ionic_strength / saturated.ionic_strength - 1) < 1e-9);
  }
}

// Without the solid all of it would be in one solution, stable by itself and drier than the saturated
// one: the first start finds that.
TEST_CASE("of two stable answers the lower in Gibbs energy is given, and the certificate says so") {
  const auto two = solve(ActivityModel::pitzer, {{"bischofite", 15}});
  REQUIRE(two.status == Status::converged);
  CHECK(two.certificate.starts == 2);
  CHECK(two.certificate.answers == 2);
  CHECK(two.certificate.next_answer > 0.01);
  CHECK(amount_of(two, "bischofite") > 5);
  const auto sought = solve(ActivityModel::pitzer, {{"bischofite", 15}}, Starts::several);
  REQUIRE(sought.status == Status::converged);
  CHECK(sought.certificate.starts == 4);
  CHECK(sought.certificate.answers == 3);  // one more comes from concentration
  CHECK(sought.certificate.next_answer > 0);
  CHECK(sought.certificate.next_answer < two.certificate.next_answer);
  CHECK(std::abs(sought.water_activity / two.water_activity - 1) < 1e-9);
}

TEST_CASE("an ordinary water is sought from one start, and from several it has the same answer") {
  for (const ActivityModel model : {ActivityModel::sit, ActivityModel::pitzer}) {
    const std::map<std::string, double> sea{
        {"halite", 0.45}, {"Mg(2+)", 0.05}, {"SO4(2-)", 0.03}, {"Cl(-)", 0.04}};
    const auto once = solve(model, sea);
    REQUIRE(once.status == Status::converged);
    CHECK(once.certificate.starts == 1);
    CHECK(once.certificate.answers == 1);
    CHECK(std::isnan(once.certificate.next_answer));
    const auto often = solve(model, sea, Starts::several);
    REQUIRE(often.status == Status::converged);
    CHECK(often.certificate.starts == 4);
    CHECK(often.certificate.answers == 1);
    CHECK(std::isnan(often.certificate.next_answer));
    CHECK(std::abs(often.ionic_strength / once.ionic_strength - 1) < 1e-9);
  }
}

// Copper sulfate by specific ions beside the edge of its stability (about 1.3 mol/kg).
TEST_CASE("a solution that is nearly unstable is sought from more starts without being asked") {
  const auto sulfate = [](double moles) {
    EquilibriumOptions options;
    options.components = {"Cu(2+)", "SO4(2-)"};
    EquilibriumInput input;
    input.ph = 3;
    input.eh_v = 0.8;
    input.totals_mol_per_kg = {{"Cu(2+)", moles}, {"SO4(2-)", moles}};
    return Equilibrium(default_dataset(), options).solve(input);
  };
  const auto near = sulfate(1.28);
  CAPTURE(near.message, near.certificate.stability);
  REQUIRE(near.status == Status::converged);
  CHECK(near.certificate.stability < 0.05);
  CHECK(near.certificate.starts > 1);
  const auto calm = sulfate(0.5);
  CHECK(calm.certificate.stability > 0.05);
  CHECK(calm.certificate.starts == 1);
}

TEST_CASE("no answer has a water activity above 1 or a solution that would fall apart") {
  for (const ActivityModel model : {ActivityModel::sit, ActivityModel::pitzer}) {
    for (const double moles : {2.0, 5.0, 10.0, 20.0, 30.0}) {
      const auto result = solve(model, {{"niter", moles}, {"mascagnite", moles}});
      CAPTURE(to_string(model), moles, result.message, result.certificate.stability);
      if (result.status == Status::converged) {
        CHECK(result.water_activity <= 1);
        CHECK(result.certificate.stability > 0);
        continue;
      }
      CHECK(result.status == Status::unstable);
      CHECK_THAT(result.message, aeruca::test::contains("no stable solution here"));
    }
  }
  CHECK(solve(ActivityModel::sit, {{"niter", 20}, {"mascagnite", 20}}).status != Status::converged);
}

TEST_CASE("the certificate refuses an unstable solution and a water activity above 1") {
  Certificate certificate;
  certificate.water_activity = 0.5;
  CHECK(certificate.holds());
  certificate.stability = -1e-3;
  CHECK_FALSE(certificate.holds());
  certificate.stability = 1;
  certificate.water_activity = 1.29;
  CHECK_FALSE(certificate.holds());
}

// Each limit of the header, passed by little and by much.
TEST_CASE("the certificate holds up to its limits and not beyond") {
  const auto holds = [](double Certificate::*field, double value) {
    Certificate certificate;
    certificate.water_activity = 0.5;
    certificate.*field = value;
    return certificate.holds();
  };
  for (const auto field : {&Certificate::mass_balance, &Certificate::charge_balance,
                           &Certificate::duality_gap, &Certificate::activity_error}) {
    CHECK(holds(field, 0.9e-9));
    CHECK_FALSE(holds(field, 1.1e-9));
  }
  CHECK_FALSE(holds(&Certificate::duality_gap, -1.1e-9));
  CHECK(holds(&Certificate::supersaturation, 0.9e-8));
  CHECK_FALSE(holds(&Certificate::supersaturation, 1.1e-8));
  CHECK(holds(&Certificate::smallest_phase, 0));
  CHECK_FALSE(holds(&Certificate::smallest_phase, -1e-15));
  for (const auto field : {&Certificate::mass_balance, &Certificate::stability})
    CHECK_FALSE(holds(field, std::nan("")));
}

TEST_CASE("oxygen above 1 bar is warned of as water decomposing, carbon dioxide is not") {
  EquilibriumOptions options;
  options.components = {"Na(+)", "CO3(2-)"};
  const Equilibrium system(default_dataset(), options);
  const auto warns = [&](double eh_v, const std::string& gas) {
    EquilibriumInput input;
    input.ph = 8;
    input.eh_v = eh_v;
    input.totals_mol_per_kg = {{"Na(+)", 0.1}};
    input.fugacity_bar = {{"CO2(g)", 2}};
    bool found = false;
    for (const std::string& warning : system.solve(input).warnings)
      found = found || warning.find("would decompose here: " + gas) != std::string::npos;
    return found;
  };
  CHECK(warns(1.2, "O2(g)"));
  CHECK(warns(-1.2, "H2(g)"));
  CHECK_FALSE(warns(0.3, "O2(g)"));
  CHECK_FALSE(warns(1.2, "CO2(g)"));
}

// 6 mol/kg of a neutral salt would drown 1e-7 of OH(-) in the balance of charge, 6 mol/kg of
// dissolved oxygen in that of hydrogen: the one of the smaller terms is used.
TEST_CASE("a neutral water is neutral to the last digits, whatever else it holds") {
  const auto asymmetry = [](Redox redox, const std::string& ingredient) {
    EquilibriumOptions options;
    options.activity = ActivityModel::ideal;
    options.acidity = Acidity::charge_balance;
    options.redox = redox;
    options.components = {"Na(+)", "Cl(-)"};
    EquilibriumInput input;
    input.totals_mol_per_kg = {{ingredient, 6}};
    if (redox == Redox::oxygen) input.oxygen_bar = 0.2;
    const auto result = Equilibrium(default_dataset(), options).solve(input);
    REQUIRE(result.status == Status::converged);
    double protons = 0;
    double hydroxide = 0;
    for (std::size_t i = 0; i < result.species.size(); ++i) {
      if (result.species[i] == "H(+)") protons = result.log10_molality[i];
      if (result.species[i] == "OH(-)") hydroxide = result.log10_molality[i];
    }
    return std::abs(protons - hydroxide);
  };
  CHECK(asymmetry(Redox::oxygen, "halite") < 1e-12);
  CHECK(asymmetry(Redox::conserved, "O2(aq)") < 1e-12);
}

// Davies 1962, at I = 0.1: log10 gamma = -A z^2 (sqrt I / (1 + sqrt I) - 0.3 I), below 0 for an ion.
TEST_CASE("an activity is the molality times its coefficient") {
  EquilibriumOptions options;
  options.activity = ActivityModel::dilute;
  options.components = {"Na(+)", "Cl(-)"};
  EquilibriumInput input;
  input.ph = 7;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = {{"halite", 0.1}};
  const auto result = Equilibrium(default_dataset(), options).solve(input);
  REQUIRE(result.status == Status::converged);
  const double root = std::sqrt(result.ionic_strength);
  const double law =
      debye_hueckel_slopes(25).a_log10 * (root / (1 + root) - 0.3 * result.ionic_strength);
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const int charge = default_dataset()->at(result.species[i]).charge;
    CHECK(std::abs(result.log10_activity[i] - result.log10_molality[i] + charge * charge * law) <
          1e-9);
  }
}

// ln gamma_i = k sum_j m_j for a cation and an anion of molality m: along the only neutral change
// the scaled second derivative is 1 + 2 m k.
TEST_CASE("stability is the second derivative along the neutral change") {
  const std::vector<double> charge{1, -1};
  const std::vector<std::size_t> slot{0, 1};
  for (const double k : {-0.8, -0.3, 0.05, 2.0}) {
    const std::vector<double> molality{0.9, 0.9};
    ActivityValues values;
    values.ln_gamma = {0, 0};
    values.ln_gamma_by_molality = {k, k, k, k};
    const double expected = 1 + 1.8 * k;
    const double found = solution_stability(charge, slot, molality, values);
    CHECK(found <= std::min(expected, 1.0) + 1e-12);  // the change of charge counts as ideal
    if (expected < 0.5) CHECK(std::abs(found - expected) < 1e-12);
  }
}

TEST_CASE("what nothing may hold is refused with the balance that cannot hold") {
  EquilibriumOptions options;
  options.components = {"Na(+)", "Cl(-)"};
  options.left_out = {"Na(+)"};
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {"halite"};
  EquilibriumInput input;
  input.ph = 7;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = {{"Na(+)", 0.2}, {"Cl(-)", 0.1}};
  const auto result = Equilibrium(default_dataset(), options).solve(input);
  CHECK(result.status == Status::infeasible);
  CHECK(result.message ==
        "the balances cannot hold: what was weighed in asks for more Na(+) than Cl(-) can hold in "
        "anything that may be there");
  options.precipitation = Precipitation::none;
  options.allowed_solids = {};
  const auto bare = Equilibrium(default_dataset(), options).solve(input);
  CHECK(bare.message == "the balances cannot hold: nothing that may be there takes up Na(+)");
}

TEST_CASE("a gas held beside a pH that no solution can bear is refused with what it asks for") {
  EquilibriumOptions options;
  EquilibriumInput input;
  input.ph = 7;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = {{"Na(+)", 0.1}};
  input.fugacity_bar = {{"CO2(g)", 1}};
  input.ph = 14;
  const auto result = Equilibrium(default_dataset(), options).solve(input);
  CHECK(result.status == Status::infeasible);
  CHECK_THAT(result.message, aeruca::test::contains("would need more than 1000 mol per kg"));
  CHECK_THAT(result.message, aeruca::test::contains("CO3(2-)"));
}

// pH and carbon dioxide fix the activity of CO3(2-), in pure water at 10^10 and at 10^15. The first
// an ideal brine of less than 1000 mol/kg can have, for its water activity is e^-15; the second none.
TEST_CASE(
    "that what is held asks for too much is proven for the ideal solution, and said of others") {
  EquilibriumOptions options;
  EquilibriumInput input;
  input.ph = 14;
  input.eh_v = 0.4;
  input.totals_mol_per_kg = {{"Na(+)", 0.1}};
  input.fugacity_bar = {{"CO2(g)", 1}};
  options.activity = ActivityModel::sit;
  const auto sit = Equilibrium(default_dataset(), options).solve(input);
  CHECK_THAT(sit.message, aeruca::test::contains(", were the solution ideal"));
  options.activity = ActivityModel::ideal;
  CHECK(Equilibrium(default_dataset(), options).solve(input).status == Status::converged);
  input.ph = 16;
  input.fugacity_bar = {{"CO2(g)", 10}};
  const auto ideal = Equilibrium(default_dataset(), options).solve(input);
  CHECK(ideal.status == Status::infeasible);
  CHECK_THAT(ideal.message, aeruca::test::contains(" mol/kg or more"));
}

// The activity of B is held at e^9 a_w^-0.5: by hand, y = 1.
TEST_CASE("a proof that too much is asked for is checked from its weights alone") {
  Chemistry chemistry;
  const double a[] = {1, 0};
  const double b[] = {0, 1};
  chemistry.species.clear(2);
  chemistry.species.add(a, 0, 0);
  chemistry.species.add(b, 0, 0);
  chemistry.pinned.clear(2);
  chemistry.pinned.add(b, -9, 0.5);  // lambda_B = 9 - 0.5 ln a_w
  chemistry.pinned_column = {1};
  chemistry.phases.clear(2);
  chemistry.charge = {0, 0};
  chemistry.kind = {ColumnKind::mass, ColumnKind::mass};
  chemistry.totals = {1, 1};
  const auto found = held_too_high(chemistry);
  REQUIRE(found);
  CHECK(found->first == 1);
  CHECK(found->second == kNone);
  const auto least = least_molality(chemistry, *found);
  CHECK(std::abs(std::log(least.in_pure_water) - 9) < 1e-12);
  CHECK(std::abs(std::log(least.in_any_ideal) - 9) < 1e-12);  // drier water asks for more
  TooHigh wrong = *found;
  wrong.weights = {0.5};
  CHECK(least_molality(chemistry, wrong).in_pure_water == 0);
  wrong = *found;
  wrong.first = 0;
  CHECK(least_molality(chemistry, wrong).in_pure_water == 0);
  // With water on the other side up to 1000 mol/kg of an ideal brine would do.
  chemistry.pinned.water = {-0.5};
  CHECK(std::abs(std::log(least_molality(chemistry, *found).in_any_ideal) -
                 (9 - 0.5 * 0.01801528 * 1000)) < 1e-3);
}

TEST_CASE("weights that prove nothing are seen through") {
  Chemistry chemistry;
  const double a[] = {1, 0};
  const double ab[] = {1, 1};
  chemistry.species.clear(2);
  chemistry.species.add(a, 0, 0);
  chemistry.species.add(ab, 0, 0);
  chemistry.phases.clear(2);
  chemistry.pinned.clear(2);
  chemistry.charge = {0, 0};
  chemistry.kind = {ColumnKind::mass, ColumnKind::mass};
  chemistry.totals = {1, 2};  // more of the second than of the first: impossible
  const auto weights = contradicting_balances(chemistry);
  REQUIRE(weights.size() == 2);
  CHECK(balances_contradict(chemistry, weights));
  CHECK_FALSE(balances_contradict(chemistry, {-1, 1}));
  CHECK_FALSE(balances_contradict(chemistry, {1, 1}));
  chemistry.totals = {2, 1};
  CHECK(contradicting_balances(chemistry).empty());
  CHECK_FALSE(balances_contradict(chemistry, weights));
}
