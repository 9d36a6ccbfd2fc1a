#pragma once

// The humidity inside an enclosure through a climate (eq 2 of aeruca/enclosure.hpp).

#include <cmath>
#include <functional>
#include <limits>
#include <vector>

#include "store/enclosure_moisture.hpp"

namespace aeruca::detail {

inline constexpr double kNever = std::numeric_limits<double>::infinity();

/// A stretch of the climate in which nothing changes.
struct ClimatePiece {
  double until_days = 0;
  Warmth inside;
  double outside_kg_per_m3 = 0;  ///< vapour
};

/// By how much a draw is off.
struct ClimateShift {
  double rh_percent = 0, temperature_k = 0;
};
[[nodiscard]] std::vector<ClimatePiece> pieces_of(const Climate& climate, const Warmths& warmths,
                                                  ClimateShift shift = {});

/// What is followed until when.
struct Course {
  double start_h = 0;  ///< humidity as a fraction
  double exchange_per_day = 0;
  double until_days = 0;
  double low_h = 0, high_h = 1;  ///< range of validity: it ends where it leaves that
  double limit_h = kNever;       ///< whose passing is looked for; infinite: none
  double horizon_days = 0;       ///< how far to go on, beyond `until_days`, until it is passed
};

struct CourseEnd {
  double days = 0;  ///< when it stopped
  double h = 0;
  double peak_h = 0;           ///< highest humidity
  double limit_days = kNever;  ///< when the limit was first passed
  bool out_of_range = false;
};

/// Called with the end of each step: days, humidity.
using Watcher = std::function<void(double days, double h)>;

/// Follows the humidity; the humidity at any of `stops` (days, in order) goes to `watch`, which may
/// be empty.
[[nodiscard]] CourseEnd follow(const Moisture& moisture, const std::vector<ClimatePiece>& pieces,
                               const Course& course, const std::vector<double>& stops = {},
                               const Watcher& watch = {});

}  // namespace aeruca::detail
