#pragma once

// The prepared system: which species, solids and gases of the data set there are, as numbers over
// the component columns, and how one water becomes a Chemistry. Private to the equilibrium part.

#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "equilibrium/chemistry.hpp"
#include "equilibrium/saturation.hpp"

namespace aeruca::detail {

/// Species of one kind: names, and rows over the columns of the system with water apart.
struct Members {
  std::vector<std::string> names;
  std::vector<std::size_t> index;  ///< in Dataset::species
  Expressions expressions;         ///< natural logarithms
};

/// A complex left out because the parameters of its two ions contain it.
struct LeftToModel {
  std::string name;
  std::size_t cation = kNone, anion = kNone;  ///< in WaterSystem::species
};

struct WaterSystem {
  std::shared_ptr<const Dataset> dataset;
  EquilibriumOptions options;
  std::vector<std::string> columns;    ///< component names: H(+), e(-), then the chosen others
  std::vector<std::size_t> component;  ///< of the columns, in Dataset::components
  std::vector<std::size_t> column_of;  ///< of those, kNone for one that is no column
  std::vector<double> column_charge;
  Members species;
  std::vector<double> charge;
  Members phases;  ///< allowed to form
  Members solids;  ///< all solids of the columns, for saturation indices
  Members gases;
  SparseExpressions solid_rows, gas_rows;  ///< of these two
  std::vector<char> gas_is_oxidant;        ///< made of water and electrons alone
  std::unique_ptr<Activity> activity;
  std::vector<EstimatedPair> estimated_pairs;  ///< of the activity model, in WaterSystem::species
  double largest_estimate = 0;                 ///< uncertainty among them
  std::vector<LeftToModel> left_to_model;
  /// By column: its acid or base has no constant, and it was not named as inert
  std::vector<char> lacks_acid;
  std::vector<char> inert;  ///< by column: it was
  std::vector<std::string> figures;
  std::vector<std::string> estimated_heats;  ///< see Equilibrium::estimated_heats
  std::vector<std::string> warnings;         ///< true of every answer of the system
  std::vector<std::string> remarks;          ///< of the activity model
  double nernst_v = 0;                       ///< V per decade

  static constexpr std::size_t kHydrogen = 0;
  static constexpr std::size_t kElectron = 1;
};

/// Throws UnknownName and InputError.
WaterSystem make_system(std::shared_ptr<const Dataset> dataset, EquilibriumOptions options);

/// Adds moles of an ingredient to totals over the columns of the system. Throws UnknownName, and
/// InputError for one outside the chosen components.
void add_ingredient(const WaterSystem& system, const std::string& name, double moles,
                    std::vector<double>& totals);

/// Position in WaterSystem::gases, ln fugacity.
using HeldGases = std::vector<std::pair<std::size_t, double>>;

/// What is held besides the totals; 0 for what is not used.
struct HeldWater {
  double ph = 0;
  double eh_v = 0;
  double oxygen_bar = 0;
  double water_activity = 0;
  HeldGases gases = {};
};
/// Place of a gas in WaterSystem::gases. Throws UnknownName and InputError.
std::size_t find_gas(const WaterSystem& system, const std::string& name);
/// ln of it. Throws InputError.
double ln_fugacity(const std::string& name, double fugacity_bar);

/// Throws InputError for what is needed and absent, given and not used, or out of range.
HeldWater held_of(const EquilibriumOptions& options, std::optional<double> ph,
                  std::optional<double> eh_v, std::optional<double> oxygen_bar,
                  std::optional<double> water_activity);

/// One water as matrices; reused from water to water, rebuilt only when its components change.
struct Water {
  Chemistry chemistry;
  std::vector<std::size_t> column;   ///< system column of each chemistry column
  std::vector<std::size_t> species;  ///< system species of each chemistry species (= slot)
  std::vector<std::size_t> phases;   ///< system phase of each chemistry phase
  std::vector<char> present;         ///< by system column
  std::vector<char> wanted;          ///< present, while a water is filled in
  std::vector<double> row;           ///< room for one of what is pinned
  bool made = false;
};

/// `totals` by system column. Throws InputError when what is held contradicts itself, and for a
/// component that is present and whose acid or base is not known.
void fill_water(const WaterSystem& system, std::span<const double> totals, const HeldWater& held,
                Water& water);

}  // namespace aeruca::detail
