#pragma once

// One analysed water with other constants: its totals are sought and it is solved again as `solve`
// does, without names and sentences. Private to the analysis part.

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/titration.hpp"
#include "equilibrium/moved_system.hpp"

namespace aeruca::detail {

/// A water of a system whose constants are moved, with totals that are sought.
class MovedWater : public SoughtWater {
 public:
  MovedWater(const SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset,
             const EquilibriumOptions& options);

  [[nodiscard]] const WaterSystem& system() const { return moved_.system(); }
  /// Other constants, and the totals of the undrawn answer.
  void start(std::span<const double> log10_changes);
  void take_totals(const MovedWater& other) { moles_ = other.moles_; }

  bool solve() override;
  [[nodiscard]] Alkalinity alkalinity() const override;
  [[nodiscard]] ChargeBalance charge() const override;
  double& total(const std::string& ingredient) override;
  /// Of the water solved last.
  [[nodiscard]] const MovedAnswer& answer() const { return answer_; }

 private:
  MovedSystem moved_;
  HeldWater held_;
  std::vector<std::string> ingredients_;
  std::vector<std::vector<double>> made_;      // components in a mole of each, by column
  std::vector<double> undrawn_, moles_, sum_;  // of each, of each, by column
  std::vector<AlkalinityShare> shares_;        // by species
  MovedAnswer answer_;
};

/// For one thread.
class DrawnWater {
 public:
  /// Of a water that has an answer, which must outlive it.
  DrawnWater(const SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset);

  /// With log10 K changed by this much, by species of the data set; false: no answer.
  bool solve(std::span<const double> log10_changes);
  /// Of the draw solved last.
  [[nodiscard]] const MovedAnswer& answer() const { return whole_.answer(); }
  [[nodiscard]] const WaterSystem& system() const { return whole_.system(); }

 private:
  bool seek(MovedWater& water) const;

  const AnalysedWater& water_;
  const Dataset& dataset_;
  MovedWater whole_;
  std::optional<MovedWater> bare_;  // without solids, where totals are sought before they form
};

}  // namespace aeruca::detail
