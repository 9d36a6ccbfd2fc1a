#pragma once

// The standard normal distribution.

namespace aeruca::detail {

/// Standard deviations within which 95 % lie.
inline constexpr double kNormal95 = 1.959963984540054;

/// Density at z.
[[nodiscard]] double normal_density(double z);
/// Probability of a value below z.
[[nodiscard]] double normal_below(double z);
/// ln of it, also where the probability itself is too small for a double.
[[nodiscard]] double log_normal_below(double z);
/// The z below which a share of 0 to 1 (both excluded) lies.
[[nodiscard]] double normal_quantile(double share);

}  // namespace aeruca::detail
