#pragma once

// Saturation indices of the solids and fugacities of the gases, by position and without names: what
// a single result and a row of a batch both show. Rows hold few components each, so only those are
// kept.

#include <cstddef>
#include <span>
#include <vector>

#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

class SparseExpressions {
 public:
  /// All of them, in order.
  void take(const Expressions& all);
  /// One more.
  void add(const Expressions& all, std::size_t i);
  /// Other constants of the same expressions, all of which were taken.
  void take_constants(const Expressions& all) { constant_ = all.constant; }
  [[nodiscard]] std::size_t size() const { return constant_.size(); }
  /// log10 of expression i from the potentials by column; minus infinity where a component is not
  /// there (its potential is minus infinity), whatever the sign of its part.
  [[nodiscard]] double log10_value(std::size_t i, std::span<const double> lambda,
                                   double ln_water) const;

 private:
  std::vector<double> constant_, water_, coefficient_;
  std::vector<std::size_t> column_;    // of each coefficient
  std::vector<std::size_t> begin_{0};  // of each expression among the coefficients
};

}  // namespace aeruca::detail
