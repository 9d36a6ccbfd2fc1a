#pragma once

// J(x) / x^2 of unsymmetric.hpp by Chebyshev series in s = ln x, one for each of equal pieces;
// template over one number or several side by side (numerics/scalar.hpp, numerics/lanes.hpp).

#include <cstddef>

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces): see numerics/lanes.hpp

// NOLINTBEGIN(misc-definitions-in-headers): internal to each kernel
constexpr std::size_t kJPieces = 14;
constexpr std::size_t kJTerms = 24;
constexpr double kJLow = -13.815510557964274;  // ln 1e-6
constexpr double kJHigh = 11.512925464970229;  // ln 1e5
constexpr double kJLength = (kJHigh - kJLow) / kJPieces;
// NOLINTEND(misc-definitions-in-headers)

/// h and its derivatives by s.
template <class A>
struct JSeries {
  typename A::Real h, slope, curvature;
};

// Clenshaw's recurrence, differentiated twice; `coefficient(k)` of the piece of each lane.
template <class A, class Coefficient>
JSeries<A> sum_j_series(Coefficient coefficient, typename A::Real t) {
  using V = typename A::Real;
  V b1 = A::all(0);
  V b2 = b1;
  V d1 = b1;
  V d2 = b1;
  V e1 = b1;
  V e2 = b1;
  const V twice = 2.0 * t;
  for (std::size_t k = kJTerms - 1; k > 0; --k) {
    const V e = 4.0 * d1 + twice * e1 - e2;
    const V d = 2.0 * b1 + twice * d1 - d2;
    const V b = coefficient(k) + twice * b1 - b2;
    e2 = e1, e1 = e;
    d2 = d1, d1 = d;
    b2 = b1, b1 = b;
  }
  return {coefficient(0) + t * b1 - b2, b1 + t * d1 - d2, 2.0 * d1 + t * e1 - e2};
}

/// `table` (pieces, terms): unsymmetric_table() of unsymmetric.hpp.
template <class A>
JSeries<A> j_series(const double* table, typename A::Real s) {
  using V = typename A::Real;
  const V inside = A::lower(A::higher(s, A::all(kJLow)), A::all(kJHigh));
  const V place = (inside - kJLow) * (1 / kJLength);
  const double* piece[A::kWidth];  // NOLINT(modernize-avoid-c-arrays): see numerics/lanes.hpp
  V start = A::all(0);
  bool like = true;
  for (int l = 0; l < A::kWidth; ++l) {
    const double here = A::get(place, l);
    // Not a number where the solve has run away: any piece will do.
    std::size_t index = here >= 0 ? static_cast<std::size_t>(here) : 0;
    if (index > kJPieces - 1) index = kJPieces - 1;
    piece[l] = table + index * kJTerms;
    like = like && piece[l] == piece[0];
    A::set(start, l, kJLow + kJLength * static_cast<double>(index));
  }
  const V t = (inside - start) * (2 / kJLength) - 1.0;
  JSeries<A> value{A::all(0), A::all(0), A::all(0)};
  if (like) {
    const double* one = piece[0];
    value = sum_j_series<A>([&](std::size_t k) { return A::all(one[k]); }, t);
  } else {
    const auto by_lane = [&](std::size_t k) {
      V c = A::all(0);
      for (int l = 0; l < A::kWidth; ++l)
        A::set(c, l, piece[l][k]);  // NOLINT(modernize-avoid-c-arrays)
      return c;
    };
    value = sum_j_series<A>(by_lane, t);
  }
  value.slope = value.slope * (2.0 / kJLength);
  value.curvature = value.curvature * (4.0 / (kJLength * kJLength));
  // Straight on beyond the ends.
  const auto outside = s != inside;
  value.h = A::choose(outside, value.h + value.slope * (s - inside), value.h);
  value.curvature = A::choose(outside, A::all(0), value.curvature);
  return value;
}

}  // namespace
}  // namespace aeruca::detail
