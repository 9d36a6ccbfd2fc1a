#pragma once

// What the sensor's accuracy says about the truth: the distribution F of the bias (truth minus
// reading).

#include <vector>

#include "aeruca/store.hpp"

namespace aeruca::detail {

class SensorError {
 public:
  SensorError(double accuracy, AccuracyMeaning meaning, double random)
      : accuracy_(accuracy), meaning_(meaning), random_(random) {}

  /// Probability that the bias is at most x.
  [[nodiscard]] double bias_below(double x) const;
  /// Probability that bias plus the reading's own error is at most x.
  [[nodiscard]] double total_below(double x) const;
  /// Probability that no reading lies truly above the limit its margin belongs to.
  [[nodiscard]] double all_below(const std::vector<double>& margins) const;

 private:
  [[nodiscard]] double bias_density(double x) const;
  [[nodiscard]] double all_below_given_bias(double bias, double lowest,
                                            const std::vector<double>& counts) const;

  double accuracy_;
  AccuracyMeaning meaning_;
  double random_;
};

}  // namespace aeruca::detail
