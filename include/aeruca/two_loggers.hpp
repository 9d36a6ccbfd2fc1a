#pragma once

/// \file
/// Two loggers side by side: do they tell the same, and what is known with both?
///
/// Both read the air of one place: truth = reading + bias for each, up to how much the air itself
/// differs between them (`place_rh_percent`, normal, 1 % RH: our own working rule, not published).
/// Over the times they share, with the second interpolated to the times of the first,
///   d = mean of (first - second)
///   probability of such a difference    P(|b2 - b1 + e| >= |d|), b1 and b2 as each sensor's accuracy
///                                       (or its checks) has it, e the air's
/// Below 0.01 the loggers disagree: one of them is off by more than it is said to be, and nothing is
/// concluded from both. Else each has learnt from the other:
///   f(b1 | d)  proportional to  f1(b1) times the density of b2 + e at d + b1               (eq 1)
/// and the probability of dormant conditions follows from it for each record; of the two the lower
/// one stands (`probability_dormant_together`). Integrals by the midpoint rule over 4000 biases:
/// off by less than 0.001.

#include <string>
#include <vector>

#include "aeruca/store.hpp"

namespace aeruca {

/// Below it two loggers disagree, and below ten times it they are to be checked: our own rule.
inline constexpr double kDisagreement = 0.01;

enum class Agreement { agree, doubtful, disagree };
/// "agree", "doubtful" or "disagree".
[[nodiscard]] std::string_view to_string(Agreement agreement);

/// What two loggers say together.
struct TwoLoggers {
  StoreAssessment first;
  StoreAssessment second;
  std::size_t common_readings = 0;   ///< of the first, with the second read within its gap limit
  double difference_rh_percent = 0;  ///< mean of first less second, both corrected by checks
  double spread_rh_percent = 0;      ///< standard deviation of that difference
  double difference_c = 0;           ///< the same of temperature; NaN: not known of both
  double probability_of_difference = 0;
  Agreement agreement = Agreement::agree;
  double probability_dormant_together = 0;  ///< NaN: they disagree, or a record is too short
  std::string said;                         ///< one sentence on what follows
};

/// Judges both by their own options and compares them. Errors: as `assess_store`; InputError when
/// the limits differ, a drift is given (it is not reckoned with here), the records share fewer than
/// 24 readings, or `place_rh_percent` lies outside 0.1 to 10.
[[nodiscard]] TwoLoggers compare_loggers(const LoggerRecord& first,
                                         const StoreOptions& first_options,
                                         const LoggerRecord& second,
                                         const StoreOptions& second_options,
                                         double place_rh_percent = 1);

}  // namespace aeruca
