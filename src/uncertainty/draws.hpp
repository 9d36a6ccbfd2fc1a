#pragma once

// Random constants: in each sample every figure is drawn once, so that constants which rest on the
// same figure move together.

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "uncertainty/combination.hpp"

namespace aeruca::detail {

/// Standard normal draws of the figures, the same on every platform for one seed.
class Draws {
 public:
  Draws(std::size_t samples, std::size_t figures, std::uint64_t seed);

  [[nodiscard]] std::size_t samples() const { return samples_; }
  /// By how many of its standard uncertainties each figure is off in a sample.
  [[nodiscard]] std::span<const double> sample(std::size_t number) const {
    return {drawn_.data() + number * figures_, figures_};
  }

 private:
  std::size_t samples_, figures_;
  std::vector<double> drawn_;
};

/// By how much a constant with these errors is off in a sample.
[[nodiscard]] double moved(const Errors& errors, std::span<const double> sample);

}  // namespace aeruca::detail
