#include "numerics/dense.hpp"

#include <array>
#include <cmath>

#include "catch.hpp"

using namespace aeruca::detail;

namespace {

constexpr std::size_t n = 3;
using Matrix = std::array<double, n * n>;
using Vector = std::array<double, n>;

double furthest(const Vector& found, const Vector& expected) {
  double worst = 0;
  for (std::size_t i = 0; i < n; ++i) worst = std::max(worst, std::abs(found[i] - expected[i]));
  return worst;
}

}  // namespace

TEST_CASE("a symmetric matrix is factored and solved") {
  // L L' of L = (2), (1, 3), (-1, 2, 1); times (1, -2, 3).
  Matrix matrix = {4, 2, -2, 2, 10, 5, -2, 5, 6};
  Vector right = {-6, -3, 6};
  cholesky_factor(matrix.data(), n, n, 1e-13);
  CHECK(matrix[0] == 2);
  CHECK(matrix[3] == 1);
  CHECK(matrix[4] == 3);
  CHECK(matrix[6] == -1);
  CHECK(matrix[7] == 2);
  CHECK(matrix[8] == 1);
  cholesky_solve(matrix.data(), n, n, right.data());
  CHECK(furthest(right, {1, -2, 3}) < 1e-14);
}

TEST_CASE("a pivot below the floor is lifted to it") {
  Matrix matrix = {1, 1, 0, 1, 1, 0, 0, 0, 4};
  cholesky_factor(matrix.data(), n, n, 0.25);
  CHECK(matrix[4] == 0.5);
  CHECK(matrix[8] == 2);
}

TEST_CASE("any matrix is factored with its largest pivots and solved, a singular one refused") {
  Matrix matrix = {0, 2, 1, 1, 1, 1, 4, 0, -2};  // times (1, -2, 3)
  std::array<std::size_t, n> pivots{};
  Vector right = {-1, 2, -2};
  REQUIRE(lu_factor(matrix.data(), n, n, pivots.data()));
  CHECK(pivots[0] == 2);
  lu_solve(matrix.data(), n, n, pivots.data(), right.data(), 1, 1);
  CHECK(furthest(right, {1, -2, 3}) < 1e-14);
  Matrix singular = {1, 2, 3, 2, 4, 6, 1, 0, 1};
  CHECK_FALSE(lu_factor(singular.data(), n, n, pivots.data()));
}
