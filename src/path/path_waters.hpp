#pragma once

// The waters of a path: what goes into the equilibrium at each progress.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "aeruca/path.hpp"

namespace aeruca::detail {

using DatasetPointer = std::shared_ptr<const Dataset>;

/// What is the same of every point, and what moves with the progress.
class PathWaters {
 public:
  /// Throws InputError for what the kind cannot have, lacks or has no use for.
  PathWaters(DatasetPointer dataset, ReactionPath path);

  /// Where the path begins and ends, in units of its progress.
  [[nodiscard]] double from() const { return from_; }
  [[nodiscard]] double to() const { return to_; }
  void end_at(double progress) { to_ = progress; }

  [[nodiscard]] const ReactionPath& path() const { return path_; }
  [[nodiscard]] const Dataset& dataset() const { return *dataset_; }
  [[nodiscard]] const Equilibrium& system() const { return *system_; }
  /// The whole of one point, with the words of its result.
  [[nodiscard]] EquilibriumResult solve(double progress) const;
  /// Of many at once: no words.
  [[nodiscard]] EquilibriumBatch solve_many(const std::vector<double>& progress,
                                            const BatchChoice& choice) const;
  /// What an amount per kilogram of the water solved is per kilogram of that at the start.
  [[nodiscard]] double scale(double progress) const;
  /// Fugacity of the gas of an aerated path over one point, log10 bar; NaN without an answer.
  [[nodiscard]] double log10_gas(double progress) const;
  /// +1 where the water takes up the gas, -1 where it gives it off.
  [[nodiscard]] double direction() const { return direction_; }

 private:
  [[nodiscard]] std::map<std::string, double> totals(double progress) const;
  [[nodiscard]] EquilibriumInput input(double progress) const;
  void set_range();
  void set_dry_start();

  DatasetPointer dataset_;
  ReactionPath path_;
  std::unique_ptr<Equilibrium> system_;
  std::vector<std::string> ingredients_;
  double from_ = 0, to_ = 0, direction_ = 1;
};

/// The solution's name of a gas: `O2(aq)` of `O2(g)`.
std::string dissolved_gas(const std::string& gas);

/// Throws InputError for what the kind cannot have, lacks or has no use for.
void check_path(const ReactionPath& path);

}  // namespace aeruca::detail
