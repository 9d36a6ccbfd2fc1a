#pragma once

// Points of a path, many at once, and where something between two of them changes.

#include <functional>
#include <vector>

#include "path/path_waters.hpp"

namespace aeruca::detail {

/// One equilibrium of a path.
struct PathPoint {
  double progress = 0;
  bool answered = false;
  std::vector<double> solids;     ///< mol per kg at the start, by allowed solid; 0: not there
  std::vector<double> dissolved;  ///< likewise, by component of `PathPoints`
  double dissolved_cu1 = 0;
  double ph = 0, eh_v = 0, ionic_strength = 0, water_activity = 0, solvent_kg = 0;
  double log10_gas_bar = kNotGiven;

  /// Whether the same solids are there.
  [[nodiscard]] bool same_solids(const PathPoint& other) const;
};

/// Solves points of a path and reads from the answers what a path tells.
class PathPoints {
 public:
  explicit PathPoints(const PathWaters& waters);

  [[nodiscard]] const std::vector<std::string>& components() const { return components_; }
  [[nodiscard]] std::vector<PathPoint> solve(const std::vector<double>& progress) const;

  /// Of two points the nearest pair between them of which `beyond` is false and true, no further
  /// apart than `within`. `beyond` is false of the first and true of the second.
  using Beyond = std::function<bool(const PathPoint&)>;
  [[nodiscard]] std::pair<PathPoint, PathPoint> narrow(PathPoint before, PathPoint after,
                                                       double within, const Beyond& beyond) const;

 private:
  void read_dissolved(const EquilibriumBatch& batch, std::size_t row, PathPoint& point) const;

  const PathWaters& waters_;
  BatchChoice choice_;
  std::vector<std::string> components_;
  std::vector<std::vector<double>> content_;  // by species, then component; at the end copper(I)
};

/// Copper(I) in one of a species: its electrons, where it holds copper.
double copper_one_of(const Dataset& dataset, const Species& species);

/// "mol/kg", "kg" ...; empty for a pure number.
std::string unit_of(PathKind kind);

/// A path through a row of baths.
PathResult follow_baths(const PathWaters& waters);

/// A result with the names and the points that were followed.
PathResult result_of(const PathWaters& waters, const PathPoints& points,
                     const std::vector<PathPoint>& followed);

}  // namespace aeruca::detail
