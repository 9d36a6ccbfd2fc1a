// Waters as a hostile user would ask for them: an answer with its certificate, a proof that there
// can be none, or the plain word that the activity model has no stable solution there; never
// silence. And the same water described from other ingredients is the same water.

#include <cmath>
#include <map>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"
#include "hostile_waters.hpp"

using namespace aeruca;
using namespace aeruca::test;

namespace {

// The rounding of tens of mol reaches what a solid leaves behind; another answer is far further
// off.
constexpr double kSame = 1e-4;

// Largest difference of ln molality; species below 1e-20 are left out, rounding of the totals
// reaches them first.
double largest_difference(const EquilibriumResult& a, const EquilibriumResult& b) {
  std::map<std::string, double> other;
  for (std::size_t i = 0; i < b.species.size(); ++i) other[b.species[i]] = b.molality[i];
  double largest = 0;
  for (std::size_t i = 0; i < a.species.size(); ++i) {
    const auto found = other.find(a.species[i]);
    if (!(a.molality[i] > 1e-20) || found == other.end()) continue;
    largest = std::max(largest, std::abs(std::log(a.molality[i] / found->second)));
  }
  return largest;
}

}  // namespace

TEST_CASE("every hostile water has a certified answer, or a reason why there is none") {
  const auto dataset = default_dataset();
  Random random(20261126);
  const long cases = seeded_cases(4000);
  long solved = 0;
  long refused = 0;  // for want of parameters
  long without_reason = 0;
  for (long turn = 0; turn < cases; ++turn) {
    const HostileWater water = hostile_water(random, *dataset);
    const auto result = Equilibrium(dataset, water.options).solve(water.input);
    CAPTURE(turn, describe(water), result.message, to_string(result.status));
    switch (result.status) {
      case Status::converged:
        CHECK(result.certificate.holds());
        ++solved;
        break;
      case Status::no_parameters:
        CHECK(water.options.activity != ActivityModel::ideal);
        CHECK(water.options.activity != ActivityModel::dilute);
        ++refused;
        [[fallthrough]];
      case Status::infeasible:
      case Status::unstable:
        CHECK_FALSE(result.message.empty());
        break;
      default:
        ++without_reason;
    }
  }
  CHECK(solved > (cases - refused) * 8 / 10);
  CHECK(without_reason == 0);
}

TEST_CASE("a hostile water described from other ingredients is the same water") {
  const auto dataset = default_dataset();
  Random random(77);
  for (long turn = 0; turn < seeded_cases(2000); ++turn) {
    const HostileWater water = hostile_water(random, *dataset);
    const auto first = Equilibrium(dataset, water.options).solve(water.input);
    if (first.status != Status::converged) continue;
    const HostileWater again = described_again(water, *dataset);
    const auto second = Equilibrium(dataset, again.options).solve(again.input);
    CAPTURE(turn, describe(water), second.message);
    REQUIRE(second.status == Status::converged);
    if (!first.degenerate.empty())
      continue;  // which of several assemblages is there is not decided
    CHECK(largest_difference(first, second) < kSame);
  }
}

// Where a given pH leaves a solution tens of mol/kg from neutral, or what is held makes one of more
// than 20 mol/kg, no model decides between several; with the Eh held and the pH free several
// answers may exist (equilibrium.hpp).
TEST_CASE("more of a solid that is present never changes the solution") {
  const auto dataset = default_dataset();
  Random random(78);
  long tried = 0;
  for (long turn = 0; turn < seeded_cases(4000); ++turn) {
    HostileWater water = hostile_water(random, *dataset);
    if (water.options.acidity != Acidity::given_ph || water.options.redox != Redox::eh) continue;
    const auto first = Equilibrium(dataset, water.options).solve(water.input);
    if (first.status != Status::converged || !first.degenerate.empty()) continue;
    if (first.ionic_strength > 20 || std::abs(first.charge_mol_per_kg) > 10) continue;
    for (std::size_t s = 0; s < first.allowed_solids.size(); ++s) {
      if (!(first.solid_mol_per_kg[s] > 1e-9)) continue;
      HostileWater more = water;
      const double added = ten_to(random, -1, 1.3);
      more.input.totals_mol_per_kg[first.allowed_solids[s]] += added;
      const auto second = Equilibrium(dataset, more.options).solve(more.input);
      CAPTURE(turn, first.allowed_solids[s], added, describe(water), second.message);
      REQUIRE(second.status == Status::converged);
      CHECK(largest_difference(first, second) < kSame);
      ++tried;
    }
  }
  if (seeded_cases(4000) == 4000) CHECK(tried > 200);
}
