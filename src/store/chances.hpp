#pragma once

// What the error of the sensor leaves open: probabilities, and the reading to stay below.

#include "store/known_time.hpp"
#include "store/sensor.hpp"

namespace aeruca::detail {

/// Means over the error of the sensor, drift included.
struct Chances {
  double below_all_time = 0;
  double dormant = 0;
  double active = 0;  ///< NaN: the onset has no upper end
  double share_above_low = 0;
  double share_above_high = 0;  ///< of the low end again where there is no upper one
  double sure_bias = 0;         ///< the bias not exceeded with dormant_probability
  double too_humid_by = 0;      ///< eq 5
};

/// `known` is made of `record` with `options`; `humid`: the humidities of the air that are reached
/// for dormant_share and active_share of the known time.
[[nodiscard]] Chances chances_of(const LoggerRecord& record, const KnownTime& known,
                                 const SensorError& error, const StoreOptions& options,
                                 std::array<double, 2> humid);

[[nodiscard]] bool has_upper_end(const OnsetCurve& onset);

}  // namespace aeruca::detail
