// Changes of hydration.

#include "aeruca/hydration.hpp"

#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/mixture.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

const Dataset& data() {
  static const auto dataset = default_dataset();
  return *dataset;
}

double change(const char* upper, const char* lower, double temperature_c) {
  return hydration_change(data(), upper, lower, temperature_c).rh_percent;
}

}  // namespace

TEST_CASE("mirabilite gives up its water where it was measured to") {
  CHECK(std::abs(change("mirabilite", "thenardite", 20) - 76.4) < 1.0);  // Steiger & Asmussen 2008
  CHECK(std::abs(change("mirabilite", "thenardite", 25) - 80.8) < 1.0);  // Brodale & Giauque 1958
}

TEST_CASE("epsomite gives up its water where reversed runs put it, 20 to 45 degrees C") {
  // Chou & Seal 2003: ln K = 20.001 - 7182.07/T of the vapour, +/- 0.7 % RH
  const double published[][2] = {{20, 47.6}, {25, 52.9}, {30, 58.8}, {35, 65.2}, {40, 72.1}};
  for (const auto& [t, rh] : published) {
    INFO(t);
    CHECK(std::abs(change("epsomite", "hexahydrite", t) - rh) < 1.5);
  }
}

TEST_CASE(
    "a change of hydration stands beside its measurements, nearest first, computed ones last") {
  const auto found = hydration_change(data(), "epsomite", "hexahydrite", 25);
  REQUIRE(found.measured.size() >= 3);
  CHECK(found.measured.front().measured.source == "chou2003");
  CHECK(found.measured.back().measured.kind == "computed");
  CHECK(found.waters == 1);
  CHECK(found.rh_uncertainty_percent > 0);
  CHECK(std::abs(found.measured.front().difference_percent) < 0.5);
}

TEST_CASE("the same change comes out of a mixture without a brine") {
  const SaltMixture salt(default_dataset(), {{"Na(+)", 2}, {"SO4(2-)", 1}});
  const double at = change("mirabilite", "thenardite", 25);
  const auto has = [&](double rh, const char* solid) { return salt.at(rh).solids.contains(solid); };
  CHECK(has(at + 0.2, "mirabilite"));
  CHECK(has(at - 0.2, "thenardite"));
}

TEST_CASE("solids that are no pair of hydrates are refused by name") {
  CHECK_THROWS_AS(hydration_change(data(), "mirabilite", "halite"), InputError);
  CHECK_THROWS_AS(hydration_change(data(), "thenardite", "mirabilite"), InputError);
  CHECK_THROWS_AS(hydration_change(data(), "mirabilit", "thenardite"), UnknownName);
  CHECK_THROWS_AS(hydration_change(data(), "mirabilite", "thenardite", 60), InputError);
  CHECK(std::isnan(hydration_change(data(), "mirabilite", "thenardite", std::nan("")).rh_percent));
}

TEST_CASE("a solid lists its neighbours, and what the literature has of others") {
  const auto all = hydration_changes(data(), "eriochalcite", 25);
  REQUIRE(all.size() == 1);
  CHECK(all[0].lower == "tolbachite");
  CHECK(std::isnan(all[0].rh_percent));
  CHECK_FALSE(all[0].not_known_because.empty());
  CHECK_FALSE(all[0].measured.empty());
  const auto epsomite = hydration_changes(data(), "hexahydrite", 25);
  CHECK(epsomite.size() == 2);  // from epsomite, to kieserite
}

TEST_CASE("neighbouring hydrates are of the same ions and lose water") {
  const auto pairs = hydration_pairs(data());
  CHECK(pairs.size() >= 7);
  for (const auto& [upper, lower] : pairs)
    CHECK(data().salt(upper).waters > data().salt(lower).waters);
}
