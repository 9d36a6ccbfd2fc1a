// The parts of the solver one at a time, on small systems that a hand can follow.

#include "aeruca/equilibrium.hpp"

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "aeruca/constants.hpp"
#include "catch.hpp"
#include "equilibrium/certify.hpp"
#include "equilibrium/solver.hpp"
#include "numerics/dense.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

// A(+), B(-), AB(aq) with K, and the solid ab with its product; nothing pinned.
Chemistry salt(double total_a, double total_b, double ln_k, double ln_product) {
  Chemistry chemistry;
  chemistry.species.clear(2);
  const std::array<double, 2> a{1, 0};
  const std::array<double, 2> b{0, 1};
  const std::array<double, 2> ab{1, 1};
  chemistry.species.add(a.data(), 0, 0);
  chemistry.species.add(b.data(), 0, 0);
  chemistry.species.add(ab.data(), ln_k, 0);
  chemistry.charge = {1, -1, 0};
  chemistry.slot = {0, 1, 2};
  chemistry.phases.clear(2);
  chemistry.phases.add(ab.data(), -ln_product, 0);
  chemistry.pinned.clear(2);
  chemistry.totals = {total_a, total_b};
  chemistry.kind = {ColumnKind::mass, ColumnKind::mass};
  chemistry.column_charge = {1, -1};
  return chemistry;
}

class Unit : public Activity {
 public:
  void evaluate(std::span<const double> molality, ActivityValues& out) const override {
    out.ln_gamma.assign(molality.size(), 0);
    out.ln_gamma_by_molality.assign(molality.size() * molality.size(), 0);
    out.ln_water_by_molality.assign(molality.size(), 0);
    out.ln_water_activity = 0;
  }
  [[nodiscard]] double ionic_strength_max(std::span<const double>) const override { return 1e9; }
};

}  // namespace

TEST_CASE("a complex in solution follows the quadratic of its mass law") {
  const double k = 50;
  const double a = 0.3;
  const double b = 0.2;
  const Chemistry chemistry = salt(a, b, std::log(k), 100);
  Solver solver;
  solver.prepare(chemistry, nullptr, 3);
  REQUIRE(solver.solve(100) == Status::converged);
  const double sum = a + b + 1 / k;
  const double complex = 0.5 * (sum - std::sqrt(sum * sum - 4 * a * b));
  CHECK(std::abs(solver.molality[2] / complex - 1) < 1e-13);
  CHECK(std::abs(solver.molality[0] / (a - complex) - 1) < 1e-13);
  CHECK(solver.ties.phases().empty());
}

TEST_CASE("a salt above its product leaves the product and the rest as solid") {
  const double product = 1e-4;
  const Chemistry chemistry = salt(0.5, 0.2, std::log(1e-9), std::log(product));
  Solver solver;
  solver.prepare(chemistry, nullptr, 3);
  REQUIRE(solver.solve(100) == Status::converged);
  REQUIRE(solver.ties.phases().size() == 1);
  CHECK(std::abs(solver.molality[0] * solver.molality[1] / product - 1) < 1e-13);
  CHECK(std::abs(solver.amount[0] + solver.molality[1] - 0.2) < 1e-12);
}

TEST_CASE("thirty decades between totals are no matter") {
  for (const double trace : {1e-30, 1e-20, 1e-12}) {
    const Chemistry chemistry = salt(trace, 6, std::log(1e10), 100);
    Solver solver;
    solver.prepare(chemistry, nullptr, 3);
    REQUIRE(solver.solve(100) == Status::converged);
    CHECK(std::abs(solver.molality[2] / trace - 1) < 1e-9);
    CHECK(std::abs(solver.molality[0] * 6e10 / trace - 1) < 1e-9);
  }
}

TEST_CASE("the certificate sees every way an answer can be wrong") {
  const Chemistry chemistry = salt(0.5, 0.2, std::log(1e-9), std::log(1e-4));
  Solver solver;
  solver.prepare(chemistry, nullptr, 3);
  REQUIRE(solver.solve(100) == Status::converged);
  const Unit model;
  Inspection room;
  auto certificate = [&] {
    return certify(
        chemistry, model, 3,
        {solver.lambda, solver.u, solver.molality, solver.ties.phases(), solver.amount, false},
        room);
  };
  REQUIRE(certificate().holds());
  SECTION("a solid too much") {
    solver.amount[0] *= 1 + 1e-8;
    CHECK(certificate().mass_balance > 1e-9);
  }
  SECTION("a solid of negative amount") {
    solver.amount[0] = -1e-3;
    CHECK(certificate().smallest_phase < 0);
  }
  SECTION("a molality that does not belong to the potentials") {
    solver.u[0] += 1e-8;
    solver.molality[0] = std::exp(solver.u[0]);
    CHECK(certificate().activity_error > 1e-9);
  }
  SECTION("potentials above saturation") {
    solver.lambda[1] += 1e-7;
    CHECK(certificate().supersaturation > 1e-8);
  }
  SECTION("a solid that is there though the water would dissolve it") {
    solver.lambda[1] -= 1e-7;
    CHECK(certificate().supersaturation > 1e-8);
  }
  SECTION("activities that are off, in the gap by the square of it") {
    solver.u[0] += 1e-3;
    const double once = certificate().duality_gap;
    solver.u[0] += 1e-3;
    CHECK(std::abs(certificate().duality_gap / once - 4) < 0.01);
  }
  SECTION("a charge where there should be none") {
    const auto neutral = certify(
        chemistry, model, 3,
        {solver.lambda, solver.u, solver.molality, solver.ties.phases(), solver.amount, true},
        room);
    CHECK(neutral.charge_balance > 1e-9);
  }
}

TEST_CASE("of two forms of one solid the stabler is there, whatever their order") {
  for (const bool stabler_first : {true, false}) {
    Chemistry chemistry = salt(0.5, 0.2, std::log(1e-9), std::log(stabler_first ? 1e-4 : 1e-3));
    const std::array<double, 2> ab{1, 1};
    chemistry.phases.add(ab.data(), -std::log(stabler_first ? 1e-3 : 1e-4), 0);
    Solver solver;
    solver.prepare(chemistry, nullptr, 3);
    REQUIRE(solver.solve(100) == Status::converged);
    REQUIRE(solver.ties.phases().size() == 1);
    CHECK(solver.ties.phases()[0] == (stabler_first ? 0U : 1U));
  }
}

TEST_CASE("ties that depend on each other are refused, not solved") {
  Chemistry chemistry = salt(0.5, 0.2, 0, 0);
  const std::array<double, 2> row{1, 0};
  chemistry.pinned.add(row.data(), 1, 0);
  chemistry.pinned.add(row.data(), 2, 0);
  chemistry.pinned_column = {0, 1};
  Solver solver;
  solver.prepare(chemistry, nullptr, 3);
  CHECK(solver.solve(100) == Status::infeasible);
}

TEST_CASE("small dense systems are solved in place") {
  std::array<double, 9> matrix{0, 2, 1, 1, -2, -3, -1, 1, 2};
  std::array<std::size_t, 3> order{};
  REQUIRE(lu_factor(matrix.data(), 3, 3, order.data()));
  std::array<double, 3> right{-8, 0, 3};
  lu_solve(matrix.data(), 3, 3, order.data(), right.data(), 1, 1);
  CHECK(std::abs(right[0] + 4) < 1e-14);
  CHECK(std::abs(right[1] + 5) < 1e-14);
  CHECK(std::abs(right[2] - 2) < 1e-14);
  std::array<double, 4> flat{1, 2, 2, 4};
  CHECK_FALSE(lu_factor(flat.data(), 2, 2, order.data()));
  std::array<double, 4> spd{4, 2, 2, 3};
  cholesky_factor(spd.data(), 2, 2, 1e-15);
  std::array<double, 2> b{2, 1};
  cholesky_solve(spd.data(), 2, 2, b.data());
  CHECK(std::abs(b[0] - 0.5) < 1e-15);
  CHECK(std::abs(b[1]) < 1e-15);
}

TEST_CASE("a batch checks its shape and names the row of a wrong value") {
  const Equilibrium system(default_dataset(), {});
  const std::vector<std::string> ingredients{"Cu(2+)"};
  const std::vector<double> totals{1e-3, -1};
  const std::vector<double> two{7, 7};
  const std::vector<double> eh{0.4, 0.4};
  CHECK_THROWS_WITH(system.solve_many({2, ingredients, totals, two, eh}),
                    aeruca::test::contains("total of Cu(2+) of water 1 = -1"));
  const std::vector<double> one{7};
  CHECK_THROWS_WITH(system.solve_many({2, ingredients, totals, one, eh}),
                    aeruca::test::contains("ph = 1: accepted is 2 values"));
}

TEST_CASE("threads share a batch without showing in the answers or in the faults") {
  const std::vector<std::string> ingredients{"Cu(2+)", "halite"};
  const std::size_t waters = 5000;
  std::vector<double> totals, ph, eh;
  for (std::size_t r = 0; r < waters; ++r) {
    totals.push_back(1e-6 * static_cast<double>(r + 1));
    totals.push_back(0.1);
    ph.push_back(2 + 10 * static_cast<double>(r) / waters);
    eh.push_back(0.3);
  }
  EquilibriumOptions options;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  options.precipitation = Precipitation::allowed;
  options.threads = 1;
  const Equilibrium alone(default_dataset(), options);
  options.threads = 3;
  const Equilibrium shared(default_dataset(), options);
  const auto one = alone.solve_many({waters, ingredients, totals, ph, eh});
  const auto three = shared.solve_many({waters, ingredients, totals, ph, eh});
  CHECK(one.log10_molality == three.log10_molality);
  CHECK(one.solid_mol_per_kg == three.solid_mol_per_kg);
  CHECK(one.certified == three.certified);

  totals[2 * 4000] = -1;
  totals[2 * 1700] = -1;
  CHECK_THROWS_WITH(shared.solve_many({waters, ingredients, totals, ph, eh}),
                    aeruca::test::contains("of water 1700"));
  options.threads = -1;
  CHECK_THROWS_AS(Equilibrium(default_dataset(), options), InputError);
}

TEST_CASE("nothing but water is a water") {
  EquilibriumOptions options;
  options.acidity = Acidity::charge_balance;
  options.redox = Redox::conserved;
  options.precipitation = Precipitation::allowed;
  const auto result = Equilibrium(default_dataset(), options).solve({});
  REQUIRE(result.status == Status::converged);
  CHECK(result.certificate.holds());
  CHECK(std::abs(result.ph - 6.9975) < 1e-3);
}

TEST_CASE("copper in water without air keeps its electrons") {
  EquilibriumOptions options;
  options.acidity = Acidity::charge_balance;
  options.redox = Redox::conserved;
  options.precipitation = Precipitation::allowed;
  const Equilibrium system(default_dataset(), options);
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"copper", 1}, {"eriochalcite", 0.1}};
  const auto result = system.solve(input);
  REQUIRE(result.certificate.holds());
  // Cu + CuCl2 = 2 CuCl: the metal takes the copper(II) down to nantokite.
  const auto formed = result.formed();
  const auto amount = [&](const std::string& name) {
    return formed.contains(name) ? formed.at(name) : -1.0;
  };
  CHECK(amount("copper") > 0.85);
  CHECK(amount("nantokite") > 0.15);
  CHECK(result.molality_of("Cu(2+)") < 3e-3);  // what nantokite itself gives by disproportionation
}

TEST_CASE("an answer is converged only when its certificate holds, down to the smallest total") {
  const auto data = default_dataset();
  for (const bool all : {false, true}) {
    EquilibriumOptions options;
    if (all) options.precipitation = Precipitation::allowed;
    const Equilibrium system(data, options);
    for (int power = 0; power >= -30; --power) {
      EquilibriumInput input;
      input.totals_mol_per_kg = {{"Cu(2+)", std::pow(10.0, power)}, {"Cl(-)", 0.1}};
      input.ph = 7;
      input.eh_v = 0.4;
      const auto result = system.solve(input);
      INFO("total 1e" << power);
      CHECK(result.status == Status::converged);
      CHECK(result.certificate.holds());
    }
    for (const double total : {1e-31, 1e-300, 1e-320}) {
      EquilibriumInput input;
      input.totals_mol_per_kg = {{"Cu(2+)", total}};
      input.ph = 7;
      input.eh_v = 0.4;
      CHECK_THROWS_AS(system.solve(input), InputError);
    }
  }
}

// Two iterations are too few for these waters: whatever the solver then holds must not pass for an
// answer.
TEST_CASE("what is not proven is not converged") {
  EquilibriumOptions options;
  options.precipitation = Precipitation::allowed;
  options.iteration_limit = 2;
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"Cu(2+)", 0.1}, {"Cl(-)", 3}};
  input.ph = 7;
  input.eh_v = 0.4;
  const auto result = Equilibrium(default_dataset(), options).solve(input);
  CHECK((result.status == Status::converged) == result.certificate.holds());
  CHECK(result.status != Status::converged);
  CHECK_FALSE(result.message.empty());
}

TEST_CASE("plain formulas are ingredients: NaCl weighs in what halite does") {
  EquilibriumOptions options;
  options.components = {"Na(+)", "Cl(-)", "CO3(2-)", "Cu(2+)", "Ca(2+)"};
  const Equilibrium system(default_dataset(), options);
  const auto totals = [&](std::map<std::string, double> given) {
    EquilibriumInput input;
    input.totals_mol_per_kg = std::move(given);
    input.ph = 8;
    input.eh_v = 0.3;
    return system.solve(input).molality;
  };
  CHECK(totals({{"NaCl", 0.1}}) == totals({{"halite", 0.1}}));
  CHECK(totals({{"Na2CO3", 0.1}}) == totals({{"natron", 0.1}}));
  CHECK(totals({{"CaCl2", 1e-3}}) == totals({{"antarcticite", 1e-3}}));
  CHECK(totals({{"CuCl2.2H2O", 1e-3}}) == totals({{"eriochalcite", 1e-3}}));
  CHECK(totals({{"CuCl", 1e-3}}) == totals({{"nantokite", 1e-3}}));
  CHECK_THROWS_AS(totals({{"NaCk", 0.1}}), UnknownName);
}

namespace {

EquilibriumResult saturated(ActivityModel model, std::vector<std::string> components,
                            const std::string& solid, std::map<std::string, double> totals) {
  EquilibriumOptions options;
  options.activity = model;
  options.components = std::move(components);
  options.acidity = Acidity::charge_balance;
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {solid};
  EquilibriumInput input;
  input.totals_mol_per_kg = std::move(totals);
  input.totals_mol_per_kg[solid] = 2;
  input.eh_v = 0;
  return Equilibrium(default_dataset(), options).solve(input);
}

}  // namespace

// Counted beside the parameters of Ca(2+) with SO4(2-), the pair made it 0.0205 mol/kg.
TEST_CASE("under Pitzer an ion pair is not counted beside the parameters that contain it") {
  const auto water =
      saturated(ActivityModel::pitzer, {"Ca(2+)", "SO4(2-)"}, "gypsum", {{"Ca(2+)", 0}});
  REQUIRE(water.status == Status::converged);
  CHECK(std::abs(2 - water.formed().at("gypsum") - 0.0152) < 2e-4);
  CHECK(std::any_of(water.remarks.begin(), water.remarks.end(), [](const std::string& remark) {
    return remark.find("already contain") != std::string::npos &&
           remark.find("CaSO4(aq)") != std::string::npos;
  }));
}

// With parameters taken as zero 0.90 mol/kg of copper was in solution over nantokite in 3 mol/kg of
// sodium chloride; refused then, and fitted now.
TEST_CASE("under Pitzer nantokite dissolves in brine by parameters of its complexes with sodium") {
  const std::vector<std::string> brine{"Cu(2+)", "Na(+)", "Cl(-)"};
  const auto water = saturated(ActivityModel::pitzer, brine, "nantokite", {{"halite", 3}});
  REQUIRE(water.status == Status::converged);
  CHECK(std::abs(2 - water.formed().at("nantokite") - 0.40) < 0.02);
}

namespace {

EquilibriumResult potassium_formate(ActivityModel model, double moles) {
  EquilibriumOptions options;
  options.activity = model;
  options.components = {"K(+)", "HCOO(-)"};
  options.inert = default_dataset()->without_proton_partner();
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"K(+)", moles}, {"HCOO(-)", moles}};
  input.ph = 9;
  input.eh_v = 0;
  return Equilibrium(default_dataset(), options).solve(input);
}

}  // namespace

// No set of K(+) with HCOO(-): estimated, 0.06 in log10 gamma per mol/kg.
TEST_CASE("parameters that are missing are estimated, told of, and refused where too rough") {
  for (const ActivityModel model : {ActivityModel::sit, ActivityModel::pitzer}) {
    CAPTURE(to_string(model));
    const auto told = [&](const EquilibriumResult& water, const std::string& words) {
      return std::any_of(water.warnings.begin(), water.warnings.end(), [&](const std::string& one) {
        return one.find(words) != std::string::npos;
      });
    };
    const auto weak = potassium_formate(model, 0.5);
    REQUIRE(weak.status == Status::converged);
    CHECK_FALSE(told(weak, "estimates leave"));
    const auto strong = potassium_formate(model, 3);
    REQUIRE(strong.status == Status::converged);
    CHECK(told(strong,
               "estimates leave in the log10 activity coefficients: K(+) with HCOO(-) +/- "
               "0.18"));
    const auto refused = potassium_formate(model, 18);
    CHECK(refused.status == Status::no_parameters);
    CHECK_FALSE(refused.certificate.holds());
    CHECK(std::isnan(refused.ph));
    CHECK_THAT(refused.message, aeruca::test::contains("no parameters for K(+) with HCOO(-)"));
  }
  // A trace among ions that have parameters is no reason.
  const auto traced =
      saturated(ActivityModel::pitzer, {"Na(+)", "Cl(-)", "K(+)"}, "halite", {{"K(+)", 1e-6}});
  CHECK(traced.status == Status::converged);
}

// The smallest range in the file was taken: 2.1 mol/kg for potassium sulfate in any brine with a
// trace of both, 6 for magnesium sulfate at 12.
TEST_CASE("the range is judged by the dominant ions of the water") {
  const auto warned = [](const std::map<std::string, double>& totals) {
    EquilibriumOptions options;
    options.activity = ActivityModel::pitzer;
    options.components = {"K(+)", "Na(+)", "SO4(2-)", "Cl(-)", "Mg(2+)"};
    EquilibriumInput input;
    input.totals_mol_per_kg = totals;
    input.ph = 7;
    input.eh_v = 0.4;
    const auto result = Equilibrium(default_dataset(), options).solve(input);
    REQUIRE(result.status == Status::converged);
    return std::any_of(result.warnings.begin(), result.warnings.end(), [](const std::string& one) {
      return one.find("ionic strength") != std::string::npos;
    });
  };
  CHECK_FALSE(warned({{"halite", 5}, {"K(+)", 0.02}, {"SO4(2-)", 0.01}}));
  CHECK_FALSE(warned({{"Mg(2+)", 2.9}, {"SO4(2-)", 2.9}}));
  CHECK(warned({{"halite", 6.2}}));
  CHECK(warned({{"K(+)", 2}, {"SO4(2-)", 1}}));
}

// Beside the coefficient of Cu(2+) with Cl(-), which contains it, the complex made the mean activity
// coefficient of copper(II) chloride 0.25 at 1 mol/kg; measured 0.417.
TEST_CASE("by specific ions a complex is not counted beside the coefficient that contains it") {
  EquilibriumOptions options;
  options.components = {"Cu(2+)", "Cl(-)"};
  const Equilibrium system(default_dataset(), options);
  const auto& species = system.species();
  CHECK(std::find(species.begin(), species.end(), "CuCl(+)") == species.end());
  CHECK(std::find(species.begin(), species.end(), "CuCl2(-)") != species.end());
  options.activity = ActivityModel::ideal;
  const Equilibrium ideal(default_dataset(), options);
  CHECK(std::find(ideal.species().begin(), ideal.species().end(), "CuCl(+)") !=
        ideal.species().end());
}
