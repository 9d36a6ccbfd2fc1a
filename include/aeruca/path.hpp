#pragma once

/// \file
/// Reaction paths: what forms, and in what order, while one thing about a water changes.
///
/// Words. *Progress*: the one thing that changes. *Event*: a progress at which a solid appears or
/// disappears, or the air has nothing left to give. *Supply*: what brings the oxidant, and so the
/// only thing that puts a time on a path.
///
/// | kind        | progress                                              | unit      | runs             |
/// |-------------|-------------------------------------------------------|-----------|------------------|
/// | titrate     | of the mixture `added`, times its amounts             | 1         | 0 to `to`        |
/// | aerate      | `gas` taken up (negative: given off)                  | mol/kg    | 0 to `to` or air |
/// | dilute      | water there is for 1 kg at the start                  | kg        | 1 to `to`        |
/// | dry         | water activity held                                   | 1         | down to `to`     |
/// | heat        | temperature                                           | degrees C | start to `to`    |
/// | change_bath | bath: solids and `carried_over` of the old bath go on | bath      | 1 to `to`        |
///
/// Every point is an equilibrium of `equilibrium.hpp` whose certificate holds; the first point that
/// has none ends the path, and the message says at what progress and why. Amounts are per kilogram
/// of the water at the start (of the bath, where baths change).
///
/// Events are sought between neighbouring points whose solids differ, by cutting the step into 17
/// parts until 1e-9 of the path is left (`within`); of baths there is nothing between. A solid that
/// comes and goes within one step is not seen: more `steps` see more.
///
/// Not in it: how fast. A path says what is possible in what order. With a supply the time is that
/// of the supply, a shortest one, for nothing else is counted: no nucleation, no film that blocks.
///
/// Oxygen through a stagnant layer of water (Fick, steady, all used up at its lower end):
///   flux = D c / depth    c = oxygen that water holds under the air (Henry; data set, no salting
///                         out: 15 to 20 % too much in sea water)
/// Charge through a circuit (Faraday): electrons = current density / F; four stand for one O2.
/// Layer: thickness = amount of solid per area times molar volume (`mineral_records.hpp`), compact.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"

namespace aeruca {

enum class PathKind { titrate, aerate, dilute, dry, heat, change_bath };
/// "titrate", "aerate", "dilute", "dry", "heat" or "change_bath".
[[nodiscard]] std::string_view to_string(PathKind kind);
/// Throws InputError that lists them.
[[nodiscard]] PathKind path_kind_from(std::string_view name);

/// A water and what is to change about it. What the kind has no use for is refused.
struct ReactionPath {
  PathKind kind = PathKind::titrate;
  /// For aerate with oxygen `Redox::conserved`; with another gas `Acidity::charge_balance`.
  /// Solvent::one_kg, for dry too, which then holds the water activity itself.
  EquilibriumOptions system;
  EquilibriumInput start;
  /// titrate: mol per kg for a progress of 1; dilute: mol per kg of the water added (empty: pure);
  /// change_bath: mol per kg of the fresh bath (empty: water)
  std::map<std::string, double> added;
  std::string gas;                ///< aerate: `O2(g)` or `CO2(g)`
  std::optional<double> gas_bar;  ///< aerate: of the air, where the path ends
  std::optional<double> to;       ///< end of the progress; aerate: none, until the air is reached
  std::optional<double> carried_over;  ///< change_bath: share of the old bath left in, 0 to 1
  int steps = 200;                     ///< 1 to 100 000; of baths each is one
};

enum class PathChange { appears, disappears, air_reached };
/// "appears", "disappears" or "air_reached".
[[nodiscard]] std::string_view to_string(PathChange change);

/// Where something changes.
struct PathEvent {
  PathChange change = PathChange::appears;
  std::string solid;  ///< empty where the air is reached
  double progress = 0;
  double within = 0;  ///< it lies so far before at most
  double ph = 0, eh_v = 0;
};

/// An amount at every point.
struct PathAmount {
  std::string name;                ///< of a solid, or of a component
  std::vector<double> mol_per_kg;  ///< by point
};

struct PathResult {
  PathKind kind = PathKind::titrate;
  std::string unit;  ///< of the progress
  /// `converged` when the whole path has answers; else that of the point which ended it
  Status status = Status::iteration_limit;
  std::string message;           ///< one sentence; empty when all is well
  std::vector<double> progress;  ///< by point, those of the events among them
  std::vector<double> ph, eh_v, ionic_strength, water_activity;
  std::vector<double> solvent_kg;     ///< water there is per kg at the start
  std::vector<double> log10_gas_bar;  ///< aerate: of the gas over the solution
  std::vector<PathAmount> solids;     ///< those that form somewhere, first come first
  std::vector<PathAmount> dissolved;  ///< by component, all its species
  std::vector<double> dissolved_cu1;  ///< mol per kg of copper(I), all its species
  std::vector<PathEvent> events;      ///< along the path
  std::vector<std::string> warnings, remarks, figures, estimated_heats;  ///< of its last point

  /// Amounts of one solid by point; zeros for one that never forms.
  [[nodiscard]] std::vector<double> solid(std::string_view name) const;
  /// Dissolved amounts of one component by point. Throws UnknownName.
  [[nodiscard]] const std::vector<double>& dissolved_of(std::string_view component) const;
  /// The event in which a solid appears first; none when it never does.
  [[nodiscard]] std::optional<PathEvent> appearance(std::string_view solid) const;
  /// Throws Error with `message` unless the whole path has answers.
  void raise_if_failed() const;
};

/// Follows a path. Throws as Equilibrium and its `solve` do for the water; InputError for an end, a
/// gas or an amount that the kind cannot have, lacks or has no use for.
[[nodiscard]] PathResult follow_path(const std::shared_ptr<const Dataset>& dataset,
                                     const ReactionPath& path);

enum class SupplyKind { none, oxygen_layer, current };
/// "none", "oxygen_layer" or "current".
[[nodiscard]] std::string_view to_string(SupplyKind kind);

/// What brings the oxidant to a surface.
struct PathSupply {
  SupplyKind kind = SupplyKind::none;
  double depth_mm = kNotGiven;          ///< oxygen_layer: of stagnant water, above 0 to 1e5
  double oxygen_bar = 0.2095;           ///< oxygen_layer: of the air, above 0 to 1
  double temperature_c = 25;            ///< oxygen_layer: of the water, 0 to 50
  double current_a_per_m2 = kNotGiven;  ///< current: above 0 to 1e6
};

/// Oxygen, or the electrons that stand for it, that a supply brings (mol O2 per m2 and day). Throws
/// InputError where it is missing or out of range.
[[nodiscard]] double oxygen_supply(const Dataset& dataset, const PathSupply& supply);

/// Days at which each point of a path is reached at the earliest: its oxygen per area over what the
/// supply brings. `water_kg_per_m2` of the path's water over the surface, above 0 to 1e6. Throws
/// as `oxygen_supply`, and InputError for a path that takes up no oxygen.
[[nodiscard]] std::vector<double> path_days(const Dataset& dataset, const PathResult& path,
                                            const PathSupply& supply, double water_kg_per_m2);

/// How thick a compact layer of an amount per area is (nm); NaN without a molar volume. Throws
/// UnknownName for a solid that the minerals guide does not have.
[[nodiscard]] double thickness_nm(const Dataset& dataset, std::string_view solid,
                                  double mol_per_m2);

/// The published rate of oxidation of copper(I) by oxygen, -d[Cu(I)]/dt = k [Cu(I)] [O2]: sea water
/// (pH 5.3 to 8.6, 5 to 45 C, ionic strength 0.1 to 0.91) or sodium chloride (0.5 to 6 mol/kg);
/// standard uncertainty 0.08 in log10 k for sea water.
enum class CopperOneMedium { sea_water, sodium_chloride };
/// k in kg/(mol min). Throws InputError outside those ranges.
[[nodiscard]] double copper_one_oxidation(const Dataset& dataset, CopperOneMedium medium, double ph,
                                          double temperature_c, double ionic_strength);

}  // namespace aeruca
