#pragma once

// How much water an enclosure holds for each cubic metre of its air (eq 1 of aeruca/enclosure.hpp).

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
  std::vector<Point> nodes_;
};

/// Water for each m3 of air, and its slope by humidity.
class Moisture {
 public:
  /// `gel_kg_per_m3` counts the capacity of the gel, `contents_kg_per_m3` the water taken up by the
  /// contents from 0 to 100 % RH. `table` must outlive it.
  Moisture(const SorptionTable& table, double gel_kg_per_m3, double contents_kg_per_m3)
      : table_(&table), gel_(gel_kg_per_m3), contents_(contents_kg_per_m3) {}

  struct Held {
    double water, slope;
  };
  [[nodiscard]] Held at(double h, const Warmth& warmth) const;
  /// The humidity at which so much is held, near `h`.
  [[nodiscard]] double humidity(double water, const Warmth& warmth, double h) const;
  [[nodiscard]] bool has_gel() const { return gel_ > 0; }

 private:
  const SorptionTable* table_;
  double gel_, contents_;
};

/// X by the equation itself (kg/kg) and its slope by ln h, at 25 degrees C.
[[nodiscard]] SorptionTable::Point sorption(const GelIsotherm& gel, double ln_h);

}  // namespace aeruca::detail
