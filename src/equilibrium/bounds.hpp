#pragma once

// Where the stages of a solve end and what its certificate asks, for one water alone and for waters
// in lanes alike, so that both find the same answer.

#include "aeruca/constants.hpp"

namespace aeruca::detail {

// Balances.
inline constexpr double kTinyPart = 1e-290;      ///< of a balance: its logarithm stays finite
inline constexpr double kRoundingOfSum = 2e-15;  ///< relative error of a sum of some tens of terms

// The start: each potential in turn to its own balance.
inline constexpr int kSweeps = 4;
inline constexpr double kLongestSweep = 60;  ///< change of a potential

// The pH of a neutral water, between these ends, by false position that keeps away from them.
inline constexpr double kMostBasic = -18 * kLn10;  ///< ln a(H(+))
inline constexpr double kMostAcid = 4 * kLn10;
inline constexpr double kBeyondAnyPh = 40;  ///< |ln(P / N)| of charge at the ends
inline constexpr double kPhGuard = 0.05;    ///< of the width

// The convex stage.
inline constexpr double kDescentEnough =
    0.3;  ///< |slope| at the end of too long a step / at its start
inline constexpr double kFirstLnGamma = 6;  ///< largest in a first guess

// The full stage.
inline constexpr double kDoneFully = 2e-13;  ///< ln balances and ln activities, next to rounding
inline constexpr double kDoneWell = 3e-11;   ///< accepted when Newton no longer improves
inline constexpr double kLongestChange =
    2;  ///< of ln molality of a species that matters, in one step
inline constexpr double kMajorShare =
    1e-7;  ///< below it a species leaves the others' activity alone
inline constexpr double kSupersaturated = 1e-11;  ///< ln; a solid above it has to form
inline constexpr double kNegativeAmount =
    1e-12;  ///< relative to the scarcest component; below it one goes

// The certificate.
inline constexpr double kCertain = 1e-9;            ///< balances, duality gap, activities
inline constexpr double kCertainSaturation = 1e-8;  ///< ln
inline constexpr double kLeastShare = 1e-9;  ///< of all molality, to matter for the stability

// Beyond it a second answer may exist, and the way from dilution is tried as well.
inline constexpr double kVeryConcentrated = -0.7;  ///< ln a(H2O)
inline constexpr double kNearlyUnstable = 0.05;    ///< smallest eigenvalue of I + K

/// mol/kg, of what is weighed in as of what is dissolved.
inline constexpr double kMostMolality = 1000;

}  // namespace aeruca::detail
