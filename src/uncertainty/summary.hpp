#pragma once

// What many draws of a figure come to.

#include <cstddef>
#include <span>
#include <vector>

namespace aeruca::detail {

/// The values below which these shares of the draws lie, NaN left out, by straight lines between
/// the draws in order; NaN where there is none.
[[nodiscard]] std::vector<double> quantiles(std::vector<double> draws,
                                            std::span<const double> shares);

/// A share of draws and its standard error, which is above 0 though all or none count (Agresti and
/// Coull 1998).
struct CountedShare {
  double share, standard_error;
};
[[nodiscard]] CountedShare share_of(std::size_t counted, std::size_t draws);

/// What varies beside a figure, each over the same draws.
class Varying {
 public:
  /// `causes` draws of each after the other.
  Varying(std::vector<double> causes, std::size_t draws);

  [[nodiscard]] std::size_t causes() const { return draws_ == 0 ? 0 : values_.size() / draws_; }
  /// Square of the linear correlation of each cause with a figure; 0 where either does not vary.
  /// Draws in which the figure is NaN are left out.
  [[nodiscard]] std::vector<double> shares(std::span<const double> figure) const;

 private:
  std::vector<double> values_;
  std::size_t draws_;
};

/// Standard error of a squared correlation from so many draws.
[[nodiscard]] double share_error(double share, std::size_t draws);

}  // namespace aeruca::detail
