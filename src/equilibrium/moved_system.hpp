#pragma once

// A system whose constants are moved, time after time, and a water of it solved with them: what a
// draw of the constants needs, without names.

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "equilibrium/workplace.hpp"

namespace aeruca::detail {

/// What one water holds, by place in the lists of its system.
struct MovedAnswer {
  std::vector<double> molality;          ///< by species, 0: not there
  std::vector<double> log10_molality;    ///< by species, minus infinity: not there
  std::vector<double> solid_mol_per_kg;  ///< by phase, per kg water given
  std::vector<double> saturation_index;  ///< by solid, minus infinity: a component is not there
  std::vector<double> log10_fugacity;    ///< by gas, likewise
  double ph = 0, eh_v = 0, ionic_strength = 0;
};

/// For one thread. An answer is that of `Equilibrium::solve` on a data set with those constants.
class MovedSystem {
 public:
  /// Throws as Equilibrium.
  MovedSystem(std::shared_ptr<const Dataset> dataset, const EquilibriumOptions& options);

  [[nodiscard]] const WaterSystem& system() const { return system_; }
  /// Changes log10 K from that of the data set, by species of it; changes of before are forgotten.
  void move(std::span<const double> log10_changes);
  /// Of totals by column of the system. Throws as Equilibrium::solve.
  Status solve(std::span<const double> totals, const HeldWater& held);
  /// Of the water solved last, which has an answer.
  void read(MovedAnswer& answer);

 private:
  void read_solids(MovedAnswer& answer);

  WaterSystem system_;
  std::vector<double> species_, phases_, solids_, gases_;  // constants as in the data set
  Workplace place_;
  std::vector<double> lambda_;  // by system column
};

}  // namespace aeruca::detail
