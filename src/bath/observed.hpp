#pragma once

// A bath log as steps of liquid and what was read at their ends.

#include <limits>
#include <vector>

#include "aeruca/bath_log.hpp"

namespace aeruca::detail {

/// A stretch of time in which the liquid is left alone.
struct ObservedStep {
  double volume_l = 0;
  double days = 0;        ///< at the rate of the first bath: warmer liquid counts more days
  double fill_mg = 0;     ///< chloride of a vessel full of fresh liquid
  double carry_over = 0;  ///< share of the liquid before that stays
  std::size_t bath = 0;   ///< of the log
};

/// A reading lies in (low, high): both equal when it was measured.
struct Observation {
  std::size_t step = 0;
  double low_mg_per_l = 0;
  double high_mg_per_l = std::numeric_limits<double>::infinity();
  double error_mg_per_l = 0;  ///< standard; NaN: not stated
  double floor_mg_per_l = 0;  ///< least standard error

  [[nodiscard]] bool measured() const { return low_mg_per_l == high_mg_per_l; }
};

struct ObservedTreatment {
  std::vector<ObservedStep> steps;
  std::vector<Observation> observations;
  double volume_relative = 0.02;
  bool scatter_unknown = false;  ///< some reading states no error

  [[nodiscard]] std::size_t measured() const;
  /// Readings that say that there was at least so much.
  [[nodiscard]] std::size_t bounded_below() const;
};

[[nodiscard]] ObservedTreatment observe(const BathLog& log, const ReadingErrors& errors);

/// How much faster diffusion runs at a temperature than at another: T over the viscosity of water.
[[nodiscard]] double diffusion_speed(double temperature_c, double reference_c);

}  // namespace aeruca::detail
