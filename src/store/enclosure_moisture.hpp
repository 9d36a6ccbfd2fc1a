#pragma once

// How much water an enclosure holds for each cubic metre of its air (eq 1 of aeruca/enclosure.hpp).

#include <cmath>
#include <vector>

#include "aeruca/enclosure.hpp"

namespace aeruca::detail {

/// What temperature does to eq 1.
struct Warmth {
  double saturated_kg_per_m3 = 0;  ///< vapour
  double gel_scale = 1;            ///< of the water on the gel: density of water
  double gel_exponent = 1;         ///< of the humidity: absolute temperature
};

/// By the formulas themselves.
[[nodiscard]] Warmth warmth_of(const GelIsotherm& gel, double temperature_c);

/// The same by temperature, on a grid of 0.05 K between whose points a straight line
/// is 2e-6 off.
class Warmths {
 public:
  explicit Warmths(const GelIsotherm& gel);
  /// 0 to 60 degrees C, not checked.
  [[nodiscard]] Warmth at(double temperature_c) const;

 private:
  std::vector<Warmth> grid_;
};

/// An isotherm as cubics over ln h of 25 degrees C, with value and slope of its equation where they
/// meet: 1e-9 kg/kg off at most.
class SorptionTable {
 public:
  explicit SorptionTable(const GelIsotherm& gel);
  struct Point {
    double value, slope;  ///< X, dX / d ln h
  };
  [[nodiscard]] Point at(double ln_h) const;

 private:
  struct Cell {
    double c0, c1, c2, c3;  // of the cubic over the place in the cell, 0 to 1
  };
  std::vector<Cell> cells_;
};

/// ln(1 + x): by its series to 2e-13 where x is small, as from one hour to the next.
[[nodiscard]] inline double ln_of_one_and(double x) {
  if (std::abs(x) > 0.01) return std::log1p(x);
  return x * (1 - x * (1. / 2 - x * (1. / 3 - x * (1. / 4 - x / 5))));
}
/// exp(-x) in the same way.
[[nodiscard]] inline double decayed(double x) {
  if (x > 0.01) return std::exp(-x);
  return 1 - x * (1 - x * (1. / 2 - x * (1. / 6 - x * (1. / 24 - x / 120))));
}

/// Water held, kg for each m3 of air, and its slope by humidity.
struct MoistureAt {
  double water = 0, slope = 0;
};

/// What the contents hold: so much for a percent of humidity, or by points given, between which a
/// monotone cubic runs (Fritsch and Carlson 1980); beyond them as straight as at the last.
class Contents {
 public:
  explicit Contents(const Enclosure& box);
  [[nodiscard]] MoistureAt at(double h) const {
    return nodes_.empty() ? MoistureAt{straight_ * h, straight_} : by_points(h);
  }

 private:
  struct Node {
    double h, water, slope;
  };
  [[nodiscard]] MoistureAt by_points(double h) const;

  double straight_ = 0;  // kg/m3 from 0 to 100 % RH
  std::vector<Node> nodes_;
};

/// Water for each m3 of air: vapour, gel and contents.
class Moisture {
 public:
  /// `gel_kg_per_m3` counts the capacity of the gel. `table` and `contents` must outlive it.
  Moisture(const SorptionTable& table, double gel_kg_per_m3, const Contents& contents)
      : table_(&table), gel_(gel_kg_per_m3), contents_(&contents) {}

  [[nodiscard]] MoistureAt at(double h, const Warmth& warmth) const {
    return at(h, std::log(h), warmth);
  }
  /// The same where ln h is known.
  [[nodiscard]] MoistureAt at(double h, double ln_h, const Warmth& warmth) const;
  /// The humidity at which so much is held, near `h`, and what is held there.
  struct Settled {
    double h = 0, ln_h = 0;
    MoistureAt held;
  };
  [[nodiscard]] Settled settled(double water, const Warmth& warmth, double h, double ln_h) const;

 private:
  const SorptionTable* table_;
  double gel_;
  const Contents* contents_;
};

/// X by the equation itself (kg/kg) and its slope by ln h, at 25 degrees C.
[[nodiscard]] SorptionTable::Point sorption(const GelIsotherm& gel, double ln_h);

}  // namespace aeruca::detail
