// Answers that are not unique: solids that could stand for each other, named as such.

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"
#include "equilibrium/degenerate.hpp"

using namespace aeruca;
using namespace aeruca::detail;
using Names = std::vector<std::string>;

namespace {

// The data set with a second tenorite of the same constant.
std::shared_ptr<const Dataset> with_twin() {
  auto copy = std::make_shared<Dataset>(*default_dataset());
  Species twin = copy->at("tenorite");
  twin.name = "twin of tenorite";
  copy->species.push_back(twin);
  copy->index_names();
  return copy;
}

EquilibriumOptions copper(Names solids) {
  EquilibriumOptions options;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = std::move(solids);
  return options;
}

EquilibriumInput water(double ph, double eh_v) {
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"Cu(2+)", 0.1}, {"Cl(-)", 0.2}, {"Na(+)", 0.2}};
  input.ph = ph;
  input.eh_v = eh_v;
  return input;
}

// Eh at which tenorite and cuprite are both saturated: that of cuprite over tenorite is linear in
// it.
double eh_of_both(double ph) {
  const Equilibrium system(default_dataset(), copper({"tenorite"}));
  double eh = 0.2;
  for (int turn = 0; turn < 5; ++turn) {
    constexpr double kStep = 1e-3;
    const double here = system.solve(water(ph, eh)).saturation_index.at("cuprite");
    const double there = system.solve(water(ph, eh + kStep)).saturation_index.at("cuprite");
    eh -= here * kStep / (there - here);
  }
  return eh;
}

EquilibriumRows rows_of(const Names& ingredients, const std::vector<double>& totals,
                        const std::vector<double>& ph, const std::vector<double>& eh) {
  return {ph.size(), ingredients, totals, ph, eh};
}

}  // namespace

TEST_CASE("a solid of the same composition and constant is named beside the one that forms") {
  const Equilibrium system(with_twin(), copper({"tenorite", "twin of tenorite", "nantokite"}));
  const auto result = system.solve(water(9, 0.3));
  REQUIRE(result.status == Status::converged);
  CHECK(result.certificate.holds());
  CHECK(result.degenerate == Names{"tenorite", "twin of tenorite"});
  CHECK(std::any_of(result.warnings.begin(), result.warnings.end(), [](const std::string& text) {
    return text.find("tenorite, twin of tenorite") != std::string::npos;
  }));
  // Where neither forms the answer is unique.
  const auto acid = system.solve(water(2, 0.3));
  REQUIRE(acid.status == Status::converged);
  CHECK(acid.degenerate.empty());
}

TEST_CASE("where two solids of copper meet at a held Eh their amounts are named as one choice") {
  const double eh = eh_of_both(9);
  const Equilibrium system(default_dataset(), copper({"tenorite", "cuprite"}));
  const auto at_boundary = system.solve(water(9, eh));
  REQUIRE(at_boundary.status == Status::converged);
  Names named = at_boundary.degenerate;
  std::sort(named.begin(), named.end());
  CHECK(named == Names{"cuprite", "tenorite"});
  for (const double off : {-1e-4, 1e-4}) {
    const auto beside = system.solve(water(9, eh + off));
    REQUIRE(beside.status == Status::converged);
    CHECK(beside.degenerate.empty());
    CHECK(beside.formed().size() == 1);
  }
}

TEST_CASE("two solids of different components that are both there are no choice") {
  EquilibriumOptions options = copper({"tenorite", "halite"});
  EquilibriumInput input = water(9, 0.3);
  input.totals_mol_per_kg = {{"Cu(2+)", 0.1}, {"halite", 10}};
  const auto result = Equilibrium(default_dataset(), options).solve(input);
  REQUIRE(result.status == Status::converged);
  CHECK(result.formed().size() == 2);
  CHECK(result.degenerate.empty());
}

TEST_CASE("in a batch, in lanes or alone, a row is flagged as degenerate where the water is") {
  const double eh_both = eh_of_both(9);
  const Names ingredients{"Cu(2+)", "Cl(-)", "Na(+)"};
  std::vector<double> totals, ph, eh;
  for (std::size_t r = 0; r < 40; ++r) {
    totals.insert(totals.end(), {0.1, 0.2, 0.2});
    ph.push_back(9);
    eh.push_back(r % 4 == 0 ? eh_both : eh_both + 1e-3 * (static_cast<double>(r) - 20.5));
  }
  for (const ActivityModel model : {ActivityModel::ideal, ActivityModel::sit}) {
    EquilibriumOptions options = copper({"tenorite", "cuprite"});
    options.activity = model;
    const Equilibrium system(default_dataset(), options);
    const auto batch = system.solve_many(rows_of(ingredients, totals, ph, eh));
    std::size_t flagged = 0;
    for (std::size_t r = 0; r < ph.size(); ++r) {
      const auto one = system.solve(water(ph[r], eh[r]));
      INFO(to_string(model) << " row " << r);
      REQUIRE(batch.certified[r] == 1);
      CHECK((batch.degenerate[r] == 1) == !one.degenerate.empty());
      flagged += batch.degenerate[r];
    }
    CHECK((flagged == 10 || model == ActivityModel::ideal));
  }
  const Equilibrium twins(with_twin(), copper({"tenorite", "twin of tenorite"}));
  const auto batch = twins.solve_many(rows_of(ingredients, totals, ph, eh));
  for (std::size_t r = 0; r < ph.size(); ++r) CHECK(batch.degenerate[r] == 1);
  BatchChoice without;
  without.columns = {BatchColumn::ph};
  CHECK(twins.solve_many(rows_of(ingredients, totals, ph, eh), without).degenerate.empty());
}

// a A + b B with rows by hand: A, B, AB and A2B2 at saturation.
TEST_CASE("exchanges are those of the compositions, apart from what is held") {
  Chemistry chemistry;
  const double ab[] = {1, 1};
  const double double_ab[] = {2, 2};
  const double a[] = {1, 0};
  chemistry.phases.clear(2);
  chemistry.phases.add(ab, 0, 0);
  chemistry.phases.add(double_ab, 0, 0);
  chemistry.phases.add(a, 0, 0);
  chemistry.pinned.clear(2);
  chemistry.totals = {1, 1};
  const std::vector<double> lambda{0, 0};
  const std::vector<std::size_t> first{0};
  const std::vector<std::size_t> all_but_double{0, 2};
  const std::vector<double> some{0.5};
  const std::vector<double> none{0};
  const std::vector<double> both{0.5, 0.5};
  const std::vector<std::size_t> exchange{0, 1};
  CHECK(replaceable_solids(chemistry, {lambda, first, some}, 0) == exchange);
  // Nothing is there that could give way.
  CHECK(replaceable_solids(chemistry, {lambda, first, none}, 0).empty());
  CHECK(replaceable_solids(chemistry, {lambda, all_but_double, both}, 0) == exchange);
  // Below saturation a solid cannot take another's place.
  const std::vector<double> lower{0, -1e-6};
  CHECK(replaceable_solids(chemistry, {lower, first, some}, 0).empty());
}
