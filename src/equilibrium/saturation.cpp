#include "equilibrium/saturation.hpp"

#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"

namespace aeruca::detail {

void SparseExpressions::take(const Expressions& all) {
  for (std::size_t i = 0; i < all.size(); ++i) add(all, i);
}

void SparseExpressions::add(const Expressions& all, std::size_t i) {
  constant_.push_back(all.constant[i]);
  water_.push_back(all.water[i]);
  for (std::size_t j = 0; j < all.columns; ++j) {
    if (all.row(i)[j] == 0) continue;
    coefficient_.push_back(all.row(i)[j]);
    column_.push_back(j);
  }
  begin_.push_back(column_.size());
}

double SparseExpressions::log10_value(std::size_t i, std::span<const double> lambda,
                                      double ln_water) const {
  double sum = constant_[i] + water_[i] * ln_water;
  for (std::size_t k = begin_[i]; k < begin_[i + 1]; ++k) {
    const double potential = lambda[column_[k]];
    if (!std::isfinite(potential)) return -std::numeric_limits<double>::infinity();
    sum += coefficient_[k] * potential;
  }
  return sum / kLn10;
}

}  // namespace aeruca::detail
