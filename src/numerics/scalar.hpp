#pragma once

// One double, by the names under which numerics/lanes.hpp gives several side by side, so that one
// template serves both: SideBySide<W> is the other. Internal, as there.

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces): see numerics/lanes.hpp

struct Scalar {
  using Real = double;
  using Truth = bool;
  static constexpr int kWidth = 1;

  static Real all(double value) { return value; }
  static Real at(const double* array, std::size_t i) { return array[i]; }
  static void put(double* array, std::size_t i, Real value) { array[i] = value; }
  static double get(Real from, int /*lane*/) { return from; }
  static void set(Real& to, int /*lane*/, double value) { to = value; }
  static Real lower(Real a, Real b) { return std::min(a, b); }
  static Real higher(Real a, Real b) { return std::max(a, b); }
  static Real choose(Truth truth, Real a, Real b) { return truth ? a : b; }
  static bool any(Truth truth) { return truth; }
  static bool every(Truth truth) { return truth; }
  static Real root(Real a) { return std::sqrt(a); }
  static Real exp(Real a) { return std::exp(a); }
  static Real log(Real a) { return std::log(a); }
  /// ln(1 + a), a >= 0.
  static Real log_1_plus(Real a) { return std::log1p(a); }
};

}  // namespace
}  // namespace aeruca::detail
