#include "numerics/normal.hpp"

#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace aeruca::detail;

// Mills' ratio lies between z / (z^2 + 1) and 1 / z (Gordon 1941, Ann. Math. Stat. 12, 364).
TEST_CASE("the logarithm of a far tail lies between the bounds of Mills' ratio") {
  for (const double z : {10.0, 20.0, 29.9, 30.1, 40.0, 100.0}) {
    const double log_density = -0.5 * z * z - 0.5 * std::log(2 * std::numbers::pi);
    CAPTURE(z);
    CHECK(log_normal_below(-z) > log_density + std::log(z / (z * z + 1)) - 1e-9);
    CHECK(log_normal_below(-z) < log_density - std::log(z) + 1e-9);
  }
}
