#pragma once

// Humidity at a surface cooler than the air.

#include <vector>

namespace aeruca::detail {

/// degrees C: below, water freezes and eq 1 has another p
inline constexpr double kColdestSurface = 0;
inline constexpr double kWarmestSurface = 60;  ///< degrees C

/// p(T) / p(T - cooler) on a grid of 0.25 degrees, interpolated linearly. The second derivative of
/// the ratio stays below 1e-3 per K2 for |cooler| <= 20, so the error stays below 1e-5.
class VapourRatio {
 public:
  explicit VapourRatio(double cooler_c);

  /// True where air and surface lie in the valid range; false for NaN.
  [[nodiscard]] bool covers(double temperature_c) const {
    return temperature_c >= lowest_ && temperature_c <= highest_;
  }
  /// Valid where `covers`.
  [[nodiscard]] double operator()(double temperature_c) const {
    if (table_.empty()) return 1;
    const double position = (temperature_c - lowest_) * kPerDegree;
    auto left = static_cast<std::size_t>(position);
    if (left + 2 > table_.size()) left = table_.size() - 2;
    return table_[left] +
           (position - static_cast<double>(left)) * (table_[left + 1] - table_[left]);
  }

 private:
  static constexpr double kPerDegree = 4;
  double lowest_;
  double highest_;
  std::vector<double> table_;  // empty: no difference, ratio 1
};

}  // namespace aeruca::detail
