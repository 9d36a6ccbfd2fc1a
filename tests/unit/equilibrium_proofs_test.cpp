// What the solver says besides an answer: a solid exchanged for another, amounts that are one choice
// of several, and proofs that no water can be as asked; on systems of one or two components.

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "equilibrium/degenerate.hpp"
#include "equilibrium/impossible.hpp"
#include "equilibrium/ties.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

Chemistry two_components() {
  Chemistry chemistry;
  chemistry.species.clear(2);
  chemistry.phases.clear(2);
  chemistry.pinned.clear(2);
  chemistry.totals = {2, 4};
  chemistry.kind = {ColumnKind::mass, ColumnKind::mass};
  chemistry.column_charge = {0, 0};
  return chemistry;
}

void add_solid(Chemistry& chemistry, double a, double b, double constant = 0) {
  const std::array<double, 2> row{a, b};
  chemistry.phases.add(row.data(), constant, 0);
}

// One component, free; species of these rows and constants.
Chemistry one_component(const std::vector<std::pair<double, double>>& row_and_constant) {
  Chemistry chemistry;
  chemistry.species.clear(1);
  chemistry.phases.clear(1);
  chemistry.pinned.clear(1);
  for (const auto& [row, constant] : row_and_constant) chemistry.species.add(&row, constant, 0);
  chemistry.charge.assign(row_and_constant.size(), 0);
  chemistry.totals = {1};
  chemistry.kind = {ColumnKind::mass};
  chemistry.column_charge = {0};
  return chemistry;
}

}  // namespace

// AB is made of A and B; of 1 A and 3 B, A is used up first.
TEST_CASE("a solid made of two others takes the place of the one that is used up first") {
  Chemistry chemistry = two_components();
  add_solid(chemistry, 1, 0);
  add_solid(chemistry, 0, 1);
  add_solid(chemistry, 1, 1);
  Ties ties;
  REQUIRE(ties.reset(chemistry));
  REQUIRE(ties.add_phase(chemistry, 0));
  REQUIRE(ties.add_phase(chemistry, 1));
  CHECK_FALSE(ties.add_phase(chemistry, 2));
  const std::array<double, 2> amounts{1, 3};
  REQUIRE(ties.exchange_phase(chemistry, 2, amounts));
  CHECK(ties.holds_phase(1));
  CHECK(ties.holds_phase(2));
  CHECK_FALSE(ties.holds_phase(0));
}

// Two forms of A, one of them there, may stand for each other; B is saturated as well, has nothing to
// do with it, and must not hide it.
TEST_CASE("two forms of one solid replace each other beside a third that only just is saturated") {
  Chemistry chemistry = two_components();
  add_solid(chemistry, 1, 0);
  add_solid(chemistry, 1, 0);
  add_solid(chemistry, 0, 1);
  const std::vector<double> lambda{0, 0};  // all three at saturation
  const std::vector<std::size_t> solids{0};
  const std::vector<double> amounts{0.1};
  const Assemblage there{lambda, solids, amounts};
  CHECK(replaceable_solids(chemistry, there, 0) == std::vector<std::size_t>{0, 1});
  const std::vector<double> lower{-1e-3, 0};  // the forms of A are not
  CHECK(replaceable_solids(chemistry, Assemblage{lower, solids, amounts}, 0).empty());
}

// m1 m2 = e^c: least together at m1 = m2 = e^(c/2).
TEST_CASE("two species that a held potential ties together are too much at their least") {
  const double c = std::log(2000.0);
  const Chemistry chemistry = one_component({{1, c}, {-1, c}});
  const auto found = held_too_high(chemistry);
  REQUIRE(found.has_value());
  CHECK(found->first == 0);
  CHECK(found->second == 1);
  CHECK(std::abs(least_molality(chemistry, *found).in_pure_water / 4000 - 1) < 1e-12);
  CHECK_FALSE(
      held_too_high(one_component({{1, c}, {1, c}})).has_value());  // one potential lowers both
  CHECK_FALSE(held_too_high(one_component({{1, std::log(400.0)}, {-1, std::log(400.0)}})));
}

// m1 = e^(c1 + x), m2 = e^(c2 - 2 x): the least sum over x, looked for step by step.
TEST_CASE("the least of two species of unlike rows is that of trying every potential") {
  const double c1 = std::log(500.0);
  const double c2 = std::log(3000.0);
  double least = 1e300;
  for (double x = -10; x < 10; x += 1e-4)
    least = std::min(least, std::exp(c1 + x) + std::exp(c2 - 2 * x));
  const Chemistry chemistry = one_component({{1, c1}, {-2, c2}});
  const auto found = held_too_high(chemistry);
  REQUIRE(found.has_value());
  CHECK(std::abs(least_molality(chemistry, *found).in_pure_water / least - 1) < 1e-7);
}
