#pragma once

// What a molality is multiplied by when a potential moves: coefficients are small whole numbers
// mostly. Written once for one number and for several side by side, as activity/pitzer_sums.hpp.

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces): see numerics/lanes.hpp

/// factor^exponent, given its inverse too.
template <class A>
typename A::Real small_power(typename A::Real factor, typename A::Real inverse, double exponent) {
  const double whole = __builtin_fabs(exponent);
  const typename A::Real base = exponent > 0 ? factor : inverse;
  if (whole == 1) return base;
  if (whole == 2) return base * base;
  if (whole == 3) return base * base * base;
  if (whole == 4) return (base * base) * (base * base);
  return A::exp(exponent * A::log(factor));
}

}  // namespace
}  // namespace aeruca::detail
