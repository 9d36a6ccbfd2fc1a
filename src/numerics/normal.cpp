#include "numerics/normal.hpp"

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <numbers>

namespace aeruca::detail {
namespace {

// In double throughout: working in long double is no more right here and several times slower.
using Double = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
const boost::math::normal_distribution<double, Double> kStandard;

}  // namespace

double normal_density(double z) {
  return boost::math::pdf(kStandard, z);
}

double normal_below(double z) {
  return boost::math::cdf(kStandard, z);
}

double log_normal_below(double z) {
  // First term of the asymptotic series: 1e-3 of the probability at -30, where it matters to
  // nobody.
  if (z < -30) return -0.5 * z * z - std::log(-z * std::sqrt(2 * std::numbers::pi));
  return std::log(normal_below(z));
}

double normal_quantile(double share) {
  return boost::math::quantile(kStandard, share);
}

}  // namespace aeruca::detail
