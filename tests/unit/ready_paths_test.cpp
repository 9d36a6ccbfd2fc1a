// The ready-made paths, each with its check.

#include "aeruca/ready_paths.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

bool near(double value, double wanted, double within) {
  return std::abs(value - wanted) <= within;
}

bool says(const std::vector<std::string>& sentences, const std::string& words) {
  return std::any_of(sentences.begin(), sentences.end(),
                     [&](const std::string& one) { return one.find(words) != std::string::npos; });
}

const NantokiteBath& bath(const NantokiteInBaths& all, const std::string& name, double mol_per_l,
                          AirContact air, bool observed_only) {
  const auto found = std::find_if(all.baths.begin(), all.baths.end(), [&](const auto& one) {
    return one.bath == name && one.mol_per_l == mol_per_l && one.air == air &&
           one.solids_left_out.empty() != observed_only;
  });
  REQUIRE(found != all.baths.end());
  REQUIRE(found->status == Status::converged);
  return *found;
}

}  // namespace

TEST_CASE("a coin in salt water: cuprite first, green only away from the metal") {
  const CoinPath coin = coin_in_salt_water(default_dataset(), {});
  REQUIRE(coin.at_metal.status == Status::converged);
  REQUIRE(coin.film.status == Status::converged);
  REQUIRE(coin.at_metal.events.size() == 1);
  CHECK(coin.at_metal.events[0].solid == "cuprite");
  const auto green = coin.film.appearance("clinoatacamite");
  const auto malachite = coin.film.appearance("malachite");
  REQUIRE(green);
  REQUIRE(malachite);
  CHECK(green->progress < malachite->progress);
  // By hand: 2.1e-9 m2/s, 0.281 mol/m3, 5 mm, 14 days: 0.143 mol O2/m2, twice that of cuprite at
  // 23.5 cm3/mol.
  CHECK(near(coin.oxygen_mol_per_m2, 0.143, 0.003));
  CHECK(near(coin.cuprite_nm, 2 * 0.143 * 23.46 * 1000, 150));
  CHECK(near(coin.metal_nm / coin.cuprite_nm, 4 * 7.1 / (2 * 23.46), 0.01));
  CHECK(says(coin.read, "Common practice, no source: a dark film at the edges"));
}

TEST_CASE("twice the water over a coin lets half as much grow in the same time") {
  CoinRequest deep;
  deep.water_mm = 10;
  const CoinPath coin = coin_in_salt_water(default_dataset(), {});
  const CoinPath deeper = coin_in_salt_water(default_dataset(), deep);
  CHECK(near(coin.cuprite_nm / deeper.cuprite_nm, 2, 1e-9));
}

TEST_CASE("copper(I) oxidises in less time than oxygen crosses the water, so the supply limits") {
  const CoinPath coin = coin_in_salt_water(default_dataset(), {});
  CHECK(coin.rate.half_life_min < coin.rate.diffusion_min / 10);
  CHECK(coin.rate.capacity_over_supply > 10);
  CHECK(says(coin.read, "so the supply of oxygen limits"));
  CoinRequest dilute;  // below the range of the published rate
  dilute.salt_mol_per_kg = 0.05;
  const CoinPath fresh = coin_in_salt_water(default_dataset(), dilute);
  CHECK(std::isnan(fresh.rate.half_life_min));
  CHECK(says(fresh.read, "outside the range of the published rate"));
}

TEST_CASE("nantokite draws 81 ug of oxygen a milligram and frees half of its chloride") {
  const PitInMoistAir air = pit_in_moist_air(default_dataset(), {});
  CHECK(near(air.oxygen_ug_per_mg, 81, 0.5));
  CHECK(near(air.acid_umol, 1000 / 98.999 / 2, 0.01));
  CHECK(near(air.trihydroxychloride_mg, 213.57 / (2 * 98.999), 0.002));
  REQUIRE(air.alone.status == Status::converged);
  // The path takes up as much: a quarter of the nantokite, but for what oxygen dissolves.
  CHECK(near(air.alone.progress.back(), 0.025, 4e-4));
  CHECK(air.alone.solid("nantokite").back() == 0);
  CHECK(air.alone.solid("clinoatacamite").back() > 0);
  CHECK(air.alone.ph.back() < 4.5);
  // Its own acid takes trihydroxychloride back: 6 CuCl to 2 Cu2(OH)3Cl and 2 CuCl2
  CHECK(near(air.dissolved_percent, 66.7, 0.5));
}

TEST_CASE("beside metal the oxygen goes to the metal and nantokite stays until it is gone") {
  const PitInMoistAir air = pit_in_moist_air(default_dataset(), {});
  REQUIRE(air.beside_metal.status == Status::converged);
  const auto green = air.beside_metal.appearance("clinoatacamite");
  REQUIRE(green);
  const auto gone = std::find_if(
      air.beside_metal.events.begin(), air.beside_metal.events.end(), [](const auto& event) {
        return event.change == PathChange::disappears && event.solid == "copper";
      });
  REQUIRE(gone != air.beside_metal.events.end());
  CHECK(gone->progress < green->progress);
  const auto nantokite = air.beside_metal.solid("nantokite");
  for (std::size_t i = 0; i < nantokite.size(); ++i)
    if (air.beside_metal.progress[i] < gone->progress) CHECK(nantokite[i] > 0.09);
}

TEST_CASE("cycles that lock half never eat more metal than there was chloride") {
  PitInMoistAirRequest request;
  request.metal_mg = 63.546 / 98.999 * 0.75;  // three quarters of a mole a mole: two cycles
  const PitInMoistAir two = pit_in_moist_air(default_dataset(), request);
  CHECK(near(two.cycles_locking, 2, 1e-3));
  CHECK(near(two.cycles_free, 0.75, 1e-3));
  CHECK(says(two.read, "are gone after 2 cycles"));
  request.metal_mg = 5;
  const PitInMoistAir never = pit_in_moist_air(default_dataset(), request);
  CHECK(std::isnan(never.cycles_locking));
  CHECK(near(never.most_metal_mg, 63.546 / 98.999, 1e-4));
  CHECK(says(never.read, "before all chloride is locked"));
}

TEST_CASE("a strong base frees all chloride and leaves tenorite; what was observed leaves it out") {
  const NantokiteInBaths all = nantokite_in_baths(default_dataset());
  CHECK(near(all.all_mg_per_l, 358.2, 0.2));  // as Yang, Wu and Chen print it
  for (const double c : {0.1, 0.5}) {
    const NantokiteBath& base = bath(all, "sodium hydroxide", c, AirContact::open, false);
    CHECK(base.solids == std::vector<std::string>{"tenorite"});
    CHECK(near(base.released_percent, 100, 1e-6));
  }
  const NantokiteBath& observed = bath(all, "sodium hydroxide", 0.01, AirContact::open, true);
  CHECK(observed.solids == std::vector<std::string>{"clinoatacamite"});
  CHECK(near(observed.locked_percent, 50, 1));
  CHECK(observed.solids_left_out == "tenorite, spertiniite");
  CHECK(all.observed_low_percent == 3);
  CHECK(all.observed_high_percent == 6);
}

TEST_CASE("shut off from air sesquicarbonate leaves cuprite, and water alone turns acid") {
  const NantokiteInBaths all = nantokite_in_baths(default_dataset());
  for (const double c : {0.0442, 0.221}) {
    const NantokiteBath& bath_row =
        bath(all, "sodium sesquicarbonate", c, AirContact::shut_out, false);
    CHECK(bath_row.solids.front() == "cuprite");
    CHECK(near(bath_row.released_percent, 100, 1e-6));
  }
  const NantokiteBath& water = bath(all, "water", 0, AirContact::shut_out, false);
  CHECK(water.ph < 4);
  CHECK(water.kept_percent > 40);
  for (const NantokiteBath& one : all.baths)
    CHECK(near(one.released_percent + one.locked_percent + one.kept_percent, 100, 1e-9));
}

TEST_CASE("5 percent sesquicarbonate loses carbon dioxide, its pH rises, and the text says loses") {
  const CarbonateBathPath strong = carbonate_bath_in_air(default_dataset(), {});
  CHECK(strong.moved_mmol_per_l < 0);
  CHECK(strong.open_ph > strong.fresh_ph + 0.2);
  CHECK(says(strong.read, "the bath loses"));
  CHECK(says(strong.read, "its pH rises from"));
  CHECK(near(strong.covered_ph, strong.fresh_ph, 0.01));
  CHECK(strong.covered_moved_mmol_per_l < 0);
  CarbonateBathRequest soda;
  soda.salt = "sodium carbonate";
  soda.mol_per_l = 0.1;
  const CarbonateBathPath taken = carbonate_bath_in_air(default_dataset(), soda);
  CHECK(taken.moved_mmol_per_l > 0);
  CHECK(taken.open_ph < taken.fresh_ph);
  CHECK(says(taken.read, "the bath takes up"));
}

TEST_CASE("the covered bath holds as much as the air under its lid has taken") {
  CarbonateBathRequest request;
  request.headspace_l_per_l = 50;
  const CarbonateBathPath bath_path = carbonate_bath_in_air(default_dataset(), request);
  // n = (p - p0) V / (R T); the fugacity there from the path, between its points
  const auto& path = bath_path.open;
  const double moved = -bath_path.covered_moved_mmol_per_l / 1000;
  std::size_t i = 0;
  while (-path.progress[i] < moved) ++i;
  const double above = std::pow(10, path.log10_gas_bar[i - 1]),
               below = std::pow(10, path.log10_gas_bar[i]);
  const double at = 4.2e-4 + moved * 8.314463 * 298.15 / 50 / 100;
  CHECK(at < above + 1e-9);
  CHECK(at > below - 1e-9);
}

TEST_CASE("a pit of 1 mm holds 1.1 mg of nantokite") {
  // 0.26 mm3 at 4.14 g/cm3
  CHECK(near(nantokite_of_pit_mg(*default_dataset(), 1), 1.08, 0.01));
  CHECK(near(nantokite_of_pit_mg(*default_dataset(), 2), 8 * 1.084, 0.01));
  CHECK_THROWS_AS(nantokite_of_pit_mg(*default_dataset(), 0), InputError);
}

TEST_CASE("ready paths refuse what they cannot be asked") {
  const auto data = default_dataset();
  CHECK_THROWS_AS(coin_in_salt_water(data, {0.6, -1, 5, 25}), InputError);
  CHECK_THROWS_AS(coin_in_salt_water(data, {0, 14, 5, 25}), InputError);
  CHECK_THROWS_AS(pit_in_moist_air(data, {0, 5, 10000}), InputError);
  CHECK_THROWS_AS(nantokite_in_baths(data, 100), InputError);
  CarbonateBathRequest hydroxide;
  hydroxide.salt = "sodium hydroxide";
  CHECK_THROWS_AS(carbonate_bath_in_air(data, hydroxide), InputError);
}
