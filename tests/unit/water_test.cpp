#include "aeruca/water.hpp"

#include <cmath>
#include <limits>

#include "aeruca/errors.hpp"
#include "catch.hpp"

using namespace aeruca;

TEST_CASE("NaN goes in and comes out of every water function") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(std::isnan(saturation_pressure_pa(nan)));
  CHECK(std::isnan(density_kg_per_m3(nan)));
  CHECK(std::isnan(density_kg_per_m3(25, nan)));
  CHECK(std::isnan(permittivity(nan, 997)));
  CHECK(std::isnan(permittivity(25, nan)));
  CHECK(std::isnan(pkw(nan, 997)));
  CHECK(std::isnan(pkw(25, nan)));
  CHECK(std::isnan(debye_hueckel_slopes(nan).a_log10));
}

TEST_CASE("Water refuses what lies outside its equations and names it") {
  const double infinity = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(saturation_pressure_pa(-0.01), InputError);
  CHECK_THROWS_AS(saturation_pressure_pa(374), InputError);
  CHECK_THROWS_AS(density_kg_per_m3(351), InputError);
  CHECK_THROWS_AS(density_kg_per_m3(25, 1.1e8), InputError);
  CHECK_THROWS_AS(density_kg_per_m3(110), InputError);  // boils at 1 atm
  CHECK_THROWS_AS(permittivity(25, 0), InputError);
  CHECK_THROWS_AS(permittivity(601, 997), InputError);
  CHECK_THROWS_AS(pkw(801, 997), InputError);
  CHECK_THROWS_AS(pkw(infinity, 997), InputError);
  CHECK_THROWS_AS(debye_hueckel_slopes(101), InputError);
  try {
    static_cast<void>(density_kg_per_m3(110));
  } catch (const InputError& error) {
    CHECK(error.parameter == "pressure_pa");
    CHECK(std::string(error.what()).find("liquid water") != std::string::npos);
  }
}

TEST_CASE("Slopes belong together") {
  for (const double t : {0.0, 12.5, 25.0, 50.0, 99.0, 100.0}) {
    const auto slopes = debye_hueckel_slopes(t);
    CHECK(std::abs(slopes.a_phi - slopes.a_log10 * std::log(10.0) / 3.0) < 1e-15);
  }
}

TEST_CASE("Density falls and vapour pressure rises on heating from 4 degrees C") {
  for (double t = 4; t < 99; t += 1) {
    CHECK(density_kg_per_m3(t + 1) < density_kg_per_m3(t));
    CHECK(saturation_pressure_pa(t + 1) > saturation_pressure_pa(t));
  }
}
