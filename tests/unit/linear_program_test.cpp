// Linear programs: optimum and prices prove each other.

#include "numerics/linear_program.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "catch.hpp"

using namespace aeruca::detail;

namespace {

double sum_of(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

// What the amounts hold too much, of each row; what each variable is worth above its price.
void check_proof(const LinearProgram& p, const LinearOptimum& best) {
  for (std::size_t r = 0; r < p.rows; ++r) {
    double held = -p.right[r];
    for (std::size_t j = 0; j < p.value.size(); ++j)
      held += best.amount[j] * p.columns[j * p.rows + r];
    CHECK(std::abs(held) < 1e-9);
  }
  for (std::size_t j = 0; j < p.value.size(); ++j) {
    double cost = 0;
    for (std::size_t r = 0; r < p.rows; ++r) cost += best.price[r] * p.columns[j * p.rows + r];
    CHECK(best.amount[j] >= 0);
    CHECK(p.value[j] - cost < 1e-9);
  }
  CHECK(std::abs(sum_of(best.amount, p.value) - sum_of(best.price, p.right)) < 1e-8);
}

}  // namespace

// Dantzig 1963, Linear Programming and Extensions, has the like; this one is worked by hand.
TEST_CASE("a small program has the corner that is worth most, and its prices") {
  // 3 x + 5 y, x + s1 = 4, 2 y + s2 = 12, 3 x + 2 y + s3 = 18: x = 2, y = 6, worth 36.
  const LinearProgram p{
      3, {1, 0, 3, 0, 2, 2, 1, 0, 0, 0, 1, 0, 0, 0, 1}, {4, 12, 18}, {3, 5, 0, 0, 0}};
  const auto best = maximise(p);
  REQUIRE(best);
  CHECK(std::abs(best->amount[0] - 2) < 1e-12);
  CHECK(std::abs(best->amount[1] - 6) < 1e-12);
  CHECK(std::abs(best->price[1] - 1.5) < 1e-12);
  CHECK(std::abs(best->price[2] - 1) < 1e-12);
  CHECK_FALSE(best->degenerate);
  check_proof(p, *best);
}

TEST_CASE("a row that follows from others is no obstacle, one that contradicts them is") {
  LinearProgram p{3, {1, 0, 1, 0, 1, 1, 1, 1, 2}, {1, 1, 2}, {1, 1, 2.5}};
  const auto best = maximise(p);
  REQUIRE(best);
  CHECK(std::abs(best->amount[2] - 1) < 1e-12);
  CHECK(best->degenerate);  // the third variable alone meets both rows
  p.right[2] = 2.5;
  CHECK_FALSE(maximise(p));
}

TEST_CASE("what cannot be made, and what has no bound, has no optimum") {
  CHECK_FALSE(maximise({1, {1, 2}, {-1}, {1, 1}}));
  CHECK_FALSE(maximise({1, {1, -1}, {1}, {1, 0.5}}));
}

TEST_CASE("random programs are proven optimal by their prices, degenerate ones too") {
  std::mt19937_64 random(5);
  const auto count = [&](int most) {
    return static_cast<int>(random() % static_cast<unsigned>(most));
  };
  int solved = 0;
  int degenerate = 0;
  for (int turn = 0; turn < 2000; ++turn) {
    LinearProgram p;
    p.rows = static_cast<std::size_t>(2 + count(5));
    const int variables = 3 + count(20);
    std::vector<double> held(p.rows, 0);
    for (int j = 0; j < variables; ++j) {
      const int amount = count(3);
      for (std::size_t r = 0; r < p.rows; ++r) {
        p.columns.push_back(count(3));
        held[r] += amount * p.columns.back();
      }
      p.columns.back() += 1;  // no column is empty
      held.back() += amount;
      p.value.push_back(count(100) - 50);
    }
    p.right = held;
    const auto best = maximise(p);
    REQUIRE(best);
    check_proof(p, *best);
    ++solved;
    degenerate += best->degenerate ? 1 : 0;
  }
  CHECK(solved == 2000);
  CHECK(degenerate > 100);
}
