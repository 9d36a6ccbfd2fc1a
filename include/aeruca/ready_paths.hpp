#pragma once

/// \file
/// Reaction paths that are asked for again and again, each with what checks it, what to read from it
/// and what it leaves out.
///
/// Words as in `path.hpp`. *Locked*: chloride in a trihydroxychloride, out of the solution but not
/// out of the object. A share is of the chloride of the nantokite.
///
/// Nantokite in air, by its equation (exact):
///   4 CuCl + O2 + 4 H2O = 2 Cu2(OH)3Cl + 2 HCl      eq 1
/// so 1 mg CuCl draws 80.8 ug O2, frees half of its chloride as acid and locks half. The acid takes
/// metal back to nantokite, 4 Cu + 4 HCl + O2 = 4 CuCl + 2 H2O. Where each cycle locks half, n mol
/// of chloride take at most n/2 + n/4 + ... = n mol of metal; where none is locked (cuprite forms,
/// or the acid dissolves the trihydroxychloride again) n mol each cycle, without end.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "aeruca/path.hpp"

namespace aeruca {

/// What limits the oxidation of dissolved copper(I): its published rate, or the oxygen that comes.
struct RateCheck {
  double k_kg_per_mol_min = kNotGiven;  ///< NaN: outside the range of the published rate
  double half_life_min = kNotGiven;     ///< of copper(I) in that water under air
  double diffusion_min = kNotGiven;     ///< oxygen needs to cross the layer, depth^2 / (2 D)
  /// Oxygen that the copper(I) there could use up, over what comes; above 1 the supply limits
  double capacity_over_supply = kNotGiven;
};

/// A copper coin under salt water that is open to air.
struct CoinRequest {
  double salt_mol_per_kg = 0.6;  ///< sodium chloride, 0.01 to 5; 0.6 is 3.5 %
  double days = 14;              ///< above 0 to 3650
  double water_mm = 5;           ///< stagnant, over the coin; above 0 to 1000
  double temperature_c = 25;     ///< 5 to 45
};

struct CoinPath {
  PathResult at_metal;           ///< as long as metal is in reach, for those days
  PathResult film;               ///< the film, cut off from the metal, with oxygen to come
  double oxygen_mol_per_m2 = 0;  ///< that comes in those days
  double cuprite_nm = 0;         ///< if all of it makes cuprite: the thickest film
  double metal_nm = 0;           ///< of copper that it takes
  RateCheck rate;
  std::vector<std::string> read, left_out;  ///< sentences
};
/// Tenorite and spertiniite are left out: they are slow to form. Throws InputError.
[[nodiscard]] CoinPath coin_in_salt_water(const std::shared_ptr<const Dataset>& dataset,
                                          const CoinRequest& request);

/// Nantokite that fills a hemispherical pit (mg): 1.1 for 1 mm. `diameter_mm` above 0 to 100.
[[nodiscard]] double nantokite_of_pit_mg(const Dataset& dataset, double diameter_mm);

/// Nantokite of a pit that humid air reaches.
struct PitInMoistAirRequest {
  double nantokite_mg = 1;         ///< above 0 to 1e6
  double metal_mg = 5;             ///< copper of the pit that acid can reach; 0 to 1e6
  double water_g_per_mol = 10000;  ///< moisture for a mol of nantokite, 200 to 1e6
};

struct PitInMoistAir {
  double oxygen_ug_per_mg = 0;       ///< by eq 1: 80.8
  double oxygen_ug = 0;              ///< for all of it
  double acid_umol = 0;              ///< hydrochloric acid, by eq 1
  double trihydroxychloride_mg = 0;  ///< by eq 1
  double freed_percent = 0;          ///< of the chloride, each cycle, by eq 1: 50
  double most_metal_mg = 0;          ///< that is eaten when each cycle locks half
  /// Cycles until the metal is gone when each locks half; NaN: never, the chloride is locked first
  double cycles_locking = kNotGiven;
  double cycles_free = kNotGiven;  ///< the same when none is locked
  PathResult alone;                ///< nantokite and moisture
  PathResult beside_metal;         ///< and with the metal
  double dissolved_percent = 0;    ///< of the chloride, at the end of `alone`: with acid in it
  std::vector<std::string> read, left_out;
};
[[nodiscard]] PitInMoistAir pit_in_moist_air(const std::shared_ptr<const Dataset>& dataset,
                                             const PitInMoistAirRequest& request);

/// Whether air reaches a bath.
enum class AirContact { shut_out, open };
/// "shut out" or "open".
[[nodiscard]] std::string_view to_string(AirContact air);

/// What a bath makes of nantokite.
struct NantokiteBath {
  std::string bath;                       ///< "water", "sodium hydroxide" ...
  double mol_per_l = 0;                   ///< of it
  std::string solids_left_out;            ///< so that what was observed can form; empty: none
  AirContact air = AirContact::shut_out;  ///< of oxygen
  Status status = Status::iteration_limit;
  std::string message;
  std::vector<std::string> solids;  ///< what it becomes, most copper first
  double ph = kNotGiven;
  double released_percent = kNotGiven;   ///< of its chloride
  double locked_percent = kNotGiven;     ///< in trihydroxychloride
  double kept_percent = kNotGiven;       ///< still nantokite
  double chloride_mg_per_l = kNotGiven;  ///< that the bath then reads
};

struct NantokiteInBaths {
  double nantokite_g_per_l = 1;
  double all_mg_per_l = 0;  ///< chloride if all were released: 358 for 1 g/L
  std::vector<NantokiteBath> baths;
  double observed_low_percent = 0, observed_high_percent = 0;  ///< released in 24 h, published
  std::vector<std::string> read, left_out;
};
/// `nantokite_g_per_l` 0.001 to 10.
[[nodiscard]] NantokiteInBaths nantokite_in_baths(const std::shared_ptr<const Dataset>& dataset,
                                                  double nantokite_g_per_l = 1);

/// One bath of a salt and the nantokite in it.
struct NantokiteBathRequest {
  std::string salt;  ///< by its full name; "water" for none
  double mol_per_l = 0;
  double nantokite_g_per_l = 1;  ///< 0.001 to 10
  double temperature_c = 25;
};
/// What that bath makes of it: shut off from air; open; open and without the solids that were not
/// observed. Throws InputError.
[[nodiscard]] std::vector<NantokiteBath> nantokite_in_bath(
    const std::shared_ptr<const Dataset>& dataset, const NantokiteBathRequest& request);

/// A carbonate bath that stands in air.
struct CarbonateBathRequest {
  std::string salt = "sodium sesquicarbonate";  ///< with carbonate in it
  double mol_per_l = 0.221;                     ///< taken as mol/kg, above 0 to 2; 5 % w/v
  double temperature_c = 25;
  double carbon_dioxide_bar = 4.2e-4;  ///< of the air
  double headspace_l_per_l = 0.1;      ///< air under the lid of a covered bath, 0 to 100
};

struct CarbonateBathPath {
  PathResult open;  ///< to the air's carbon dioxide
  double fresh_ph = kNotGiven;
  double open_ph = kNotGiven;
  double moved_mmol_per_l = kNotGiven;  ///< taken up; negative: lost
  double covered_ph = kNotGiven;        ///< once the air under the lid is at peace with it
  double covered_moved_mmol_per_l = kNotGiven;
  std::vector<std::string> read, left_out;
};
[[nodiscard]] CarbonateBathPath carbonate_bath_in_air(const std::shared_ptr<const Dataset>& dataset,
                                                      const CarbonateBathRequest& request);
/// The same of any bath: hydroxide takes carbon dioxide up, and "water" (0 mol/L) does a little.
[[nodiscard]] CarbonateBathPath bath_in_air(const std::shared_ptr<const Dataset>& dataset,
                                            const CarbonateBathRequest& request);

}  // namespace aeruca
