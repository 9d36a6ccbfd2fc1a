#pragma once

// What the sensor's accuracy says about the truth: the distribution F of the bias (truth minus
// reading).

#include <array>
#include <span>
#include <vector>

#include "aeruca/store.hpp"
#include "store/margins.hpp"

namespace aeruca::detail {

class SensorError {
 public:
  SensorError(double accuracy, AccuracyMeaning meaning, double random)
      : accuracy_(accuracy), meaning_(meaning), random_(random) {}

  /// Probability that the bias is at most x.
  [[nodiscard]] double bias_below(double x) const;
  /// The bias that is not exceeded with this probability (0.5 to 1; 1 is infinite for a normal one).
  [[nodiscard]] double bias_at(double probability) const;
  /// Probability that bias plus the reading's own error is at most x.
  [[nodiscard]] double total_below(double x) const;
  /// Its density; with a random error, or a normal bias.
  [[nodiscard]] double total_density(double x) const;
  /// Beyond it to either side `total_below` is 0 or 1, to rounding.
  [[nodiscard]] double reach() const;
  /// Lays `total_below` out in a table for `expected_seconds`, to 1e-13; worth it for more readings
  /// than it has pieces, some thousands. Without one where it is a ramp, or would be too long.
  void tabulate();
  /// Sum of the seconds, each times the probability that its reading is truly above the limit.
  [[nodiscard]] double expected_seconds(std::span<const double> margins,
                                        std::span<const double> seconds) const;
  /// Probability that no reading lies truly above the limit its margin belongs to.
  [[nodiscard]] double all_below(const Margins& margins) const;

 private:
  [[nodiscard]] bool is_ramp() const {
    return meaning_ == AccuracyMeaning::uniform && random_ == 0 && accuracy_ > 0;
  }
  [[nodiscard]] double ramp_seconds(std::span<const double> margins,
                                    std::span<const double> seconds) const;
  // F on a short interval, as a polynomial in the part of it that is passed.
  using Piece = std::array<double, 6>;
  [[nodiscard]] Piece piece_from(double x) const;
  [[nodiscard]] double tabulated_below(double x) const;
  [[nodiscard]] double total_density_slope(double x) const;
  [[nodiscard]] double bias_density(double x) const;
  [[nodiscard]] double all_below_given_bias(double bias, double lowest,
                                            const std::vector<double>& counts) const;

  double accuracy_;
  AccuracyMeaning meaning_;
  double random_;
  double step_ = 0;            // of the table
  std::vector<Piece> pieces_;  // from -reach() on; empty: no table
};

}  // namespace aeruca::detail
