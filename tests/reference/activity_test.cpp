// The unsymmetric mixing function beside its defining integral, worked out with 40 digits.

#include <cmath>

#include "activity/unsymmetric.hpp"
#include "catch.hpp"
#include "reference.hpp"

using aeruca_test::number;

TEST_CASE("Unsymmetric mixing is that of the defining integral, at the accuracy stated") {
  for (const auto& row : aeruca_test::reference_rows("unsymmetric.csv")) {
    const double x = number(row, "x");
    const auto found = aeruca::detail::unsymmetric_j(std::log(x));
    const double square = x * x;
    INFO("x = " << x);
    CHECK(std::abs(found.h - number(row, "j") / square) < 1e-10);
    // of x J' / x^2 = 2 h + h': a derivative of the series
    CHECK(std::abs(2 * found.h + found.slope - number(row, "x_j_prime") / square) < 1e-9);
  }
}
