#pragma once

/// \file
/// How far off is the humidity sensor, by what it read over a saturated salt?
///
/// In a closed jar over crystals in their saturated solution the humidity is that of the salt. The
/// difference between it and the reading is the error of the sensor there. What counts is the error
/// at the limit a record is judged by:
///   - between two checks it is interpolated, linear in humidity;
///   - beyond the last, the error of the nearest serves.
/// Its standard uncertainty is made of
///   - that of each check: the salt's own, and 0.5 % RH for the jar (temperature not quite even, not
///     quite settled, the last digit of the display),
///   - accuracy / sqrt(3) times d / 20 % RH beyond the last check, d / 40 % RH between two, with d
///     from the limit to the nearest: at 20 % RH a single check says no more than the maker does.
/// These four figures are our own working rule, not published; a check farther than 20 % RH from
/// the limit, with none on its other side, is refused.

#include <string>
#include <string_view>
#include <vector>

namespace aeruca {

struct Dataset;

/// What the sensor read in a jar over a saturated salt.
struct SensorCheck {
  std::string salt;                     ///< as given: "halite"
  double temperature_c = 25;            ///< of the jar
  double reading_rh_percent = 0;        ///< of the sensor, settled (0 to 110)
  double salt_rh_percent = 0;           ///< of the air over the salt (0 to 100)
  double salt_uncertainty_percent = 0;  ///< standard, of `salt_rh_percent`
};

/// A check over a salt of the data set: its measured humidity nearest in temperature where one lies
/// within 2.5 K (evaluated figures before single measurements), else the computed one. Throws
/// UnknownName, and InputError when the humidity over it is not known at that temperature or the
/// reading is out of range.
[[nodiscard]] SensorCheck sensor_check(const Dataset& dataset, std::string_view salt,
                                       double temperature_c, double reading_rh_percent);

/// What the checks say of the sensor at one humidity.
struct SensorCorrection {
  double rh_percent = 0;              ///< to be added to a reading
  double uncertainty_rh_percent = 0;  ///< standard
};

/// Errors: InputError when there is no check, or none near enough (above).
[[nodiscard]] SensorCorrection sensor_correction(const std::vector<SensorCheck>& checks,
                                                 double rh_percent, double accuracy_rh_percent);

}  // namespace aeruca
