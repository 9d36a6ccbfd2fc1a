// How sure a humidity is, worked out once more from what brine.hpp says, with differences in place of
// derivatives; and which set of parameters serves away from 25 C.

#include <algorithm>
#include <cmath>
#include <string>

#include "aeruca/brine.hpp"
#include "brine/salt_model.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

const Dataset& data() {
  static const auto dataset = default_dataset();
  return *dataset;
}

// Squares of: the osmotic coefficient, the molality at saturation, and 0.1 % RH.
double by_the_header(const Deliquescence& salt, double molality, double relative_error) {
  const auto at = [&](double m) {
    return single_salt(data(), salt.solid, m, salt.temperature_c, salt.pitzer_set);
  };
  const SaltSolution solution = at(molality);
  const double step = 1e-4 * molality;
  const double slope =
      (at(molality + step).water_activity - at(molality - step).water_activity) / (2 * step);
  const double by_osmotic = 100 * solution.water_activity_uncertainty;
  const double by_molality = 100 * slope * relative_error * molality;
  return std::sqrt(by_osmotic * by_osmotic + by_molality * by_molality + 0.1 * 0.1);
}

}  // namespace

TEST_CASE("the osmotic coefficient is less sure away from 25 degrees C and beyond its range") {
  const double near = single_salt(data(), "NaCl", 1, 25).osmotic_uncertainty;
  CHECK(std::abs(single_salt(data(), "NaCl", 1, 35).osmotic_uncertainty - near - 0.003) < 1e-12);
  CHECK(std::abs(single_salt(data(), "NaCl", 1, 5).osmotic_uncertainty - near - 0.006) < 1e-12);
  const double inside =
      single_salt(data(), "MgCl2", 4.5, 25, "Mg-Cl:HMW84+SP78").osmotic_uncertainty;
  const double beyond = single_salt(data(), "MgCl2", 6, 25, "Mg-Cl:HMW84+SP78").osmotic_uncertainty;
  CHECK(std::abs(beyond - inside - 0.02 * (36 / 20.25 - 1)) < 1e-12);
}

TEST_CASE("what a fit leaves open is the sum over its covariance, in squares with what is stated") {
  PitzerBinary set = *detail::own_set(data(), data().salt("halite"));
  set.osmotic_uncertainty = 0.003;
  set.fitted = {"beta0_per_k", "c_phi_per_k", "beta1"};
  const double a = 4e-8;
  const double b = 9e-10;
  const double ab = -3e-9;
  const double c = 1e-4;
  set.covariance = {a, ab, b, 0, 0, c};
  const double t = 8;
  const double m = 3;
  const double by_beta0 = (t - 25) * m;      // 2 m nM nX / nu
  const double by_c_phi = (t - 25) * m * m;  // 2 m^2 (nM nX)^1.5 / nu
  const double by_beta1 = m * std::exp(-set.alpha1 * std::sqrt(m));
  const double fit = by_beta0 * by_beta0 * a + 2 * by_beta0 * by_c_phi * ab +
                     by_c_phi * by_c_phi * b + by_beta1 * by_beta1 * c;
  const detail::SaltModel model(data().salt("halite"), set, t);
  CHECK(std::abs(model.fit_uncertainty(m) / std::sqrt(fit) - 1) < 1e-12);
  CHECK(std::abs(model.osmotic_uncertainty(m) / std::hypot(0.003, std::sqrt(fit)) - 1) < 1e-12);
}

TEST_CASE("a humidity from a solubility is as sure as its parts, in squares") {
  for (const double t : {20.0, 22.0, 25.0}) {
    const Deliquescence salt = deliquescence(data(), "halite", t);
    REQUIRE(salt.basis == SaturationBasis::solubility);
    REQUIRE_FALSE(salt.humidity_in_fit);
    double error = t == 22 ? 0.01 : 0.005;  // between two temperatures of the table, or at one
    if (!std::isnan(salt.molality_from_constant)) {
      error = std::max(error, std::abs(salt.molality_from_constant / salt.molality_measured - 1));
    }
    const double wanted = by_the_header(salt, salt.molality_measured, error);
    CHECK(std::abs(salt.rh_uncertainty_percent / wanted - 1) < 1e-6);
  }
}

// The error of ln K over d ln(product) / d ln(molality) is that of the molality.
TEST_CASE("a humidity from a constant is as sure as the constant lets the molality be") {
  int found = 0;
  for (const std::string& name : computable_salts(data())) {
    const Deliquescence salt = deliquescence(data(), name);
    if (salt.basis != SaturationBasis::constant || salt.humidity_in_fit) continue;
    const Salt& entry = data().salt(name);
    const detail::SaltModel model(entry, detail::set_named(data(), salt.pitzer_set), 25);
    const double m = salt.molality_from_constant;
    const double slope =
        (model.ln_product(1.001 * m) - model.ln_product(0.999 * m)) / std::log(1.001 / 0.999);
    const double stated = data().figure(entry.solid + ".ln_k").uncertainty;
    const double error = std::isnan(stated) ? 0.01 : stated / std::abs(slope);
    const double wanted = by_the_header(salt, m, std::max(0.005, error));
    INFO(name);
    CHECK(std::abs(salt.rh_uncertainty_percent / wanted - 1) < 1e-4);
    ++found;
  }
  CHECK(found > 0);
}

TEST_CASE("where a salt's own set does not hold, the chosen one of the others serves") {
  const auto set = [](const char* id, double coldest, bool chosen) {
    PitzerBinary made;
    made.id = id;
    made.cation = "Na(+)";
    made.anion = "Cl(-)";
    made.temperature_min_c = coldest;
    made.temperature_max_c = 25;
    made.chosen = chosen;
    return made;
  };
  Dataset hand;
  hand.pitzer = {set("own", 25, false), set("first", 0, false), set("chosen", 0, true)};
  Salt salt;
  salt.ions = {{"Na(+)", 1}, {"Cl(-)", 1}};
  salt.pitzer_set = "own";
  CHECK(detail::set_for(hand, salt, 25)->id == "own");
  CHECK(detail::set_for(hand, salt, 10)->id == "chosen");
  std::swap(hand.pitzer[1], hand.pitzer[2]);
  CHECK(detail::set_for(hand, salt, 10)->id == "chosen");
  hand.pitzer.resize(1);
  CHECK(detail::set_for(hand, salt, 10) == nullptr);
}
