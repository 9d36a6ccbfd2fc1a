#pragma once

// Numbers as a reader is shown them: with the digits that their uncertainty carries, never rounded
// to certainty.

#include <string>

#include "base/text.hpp"

namespace aeruca::detail {

/// "2.50": the value to so many decimals, in any locale; no "-0.00".
std::string fixed_text(double value, int decimals);

/// "2400": the value to so many significant figures, written out.
std::string significant_text(double value, int digits);

/// The same, or "< 0.001" below so little that figures would pretend.
std::string significant_text_above(double least, double value, int digits);

/// "6.00 +/- 0.15": two digits of the uncertainty, which is left out when it is not known (NaN or
/// 0).
std::string plus_minus(double value, double uncertainty);

/// "30 (25 to 36)": each figure to the digits that the range carries; to `digits` significant
/// figures and without brackets when the range is not known (NaN).
std::string range_text(double value, double low, double high, int digits = 3);

/// Two digits; "below 0.01" and "above 0.99" at the ends.
std::string probability_text(double probability);

/// "30 to 60", or "> 300" where the upper end is infinite.
std::string between_text(double low, double high);

}  // namespace aeruca::detail
