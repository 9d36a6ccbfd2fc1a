#pragma once

// W doubles side by side, and what is done with them: the compiler's vector types, with an
// exponential and a logarithm of their own, since the standard ones take one number at a time.
//
// Everything here has internal linkage. One source is compiled for several widths of the machine's
// registers (equilibrium/lane_kernel*.cpp); a function shared between them could carry instructions
// of the widest into a program on a machine that lacks them.

#include <cstddef>
#include <cstdint>

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces): see above

template <int W>
struct LanesOf {
  typedef double Real __attribute__((vector_size(W * 8)));         // NOLINT(modernize-use-using)
  typedef std::int64_t Whole __attribute__((vector_size(W * 8)));  // NOLINT(modernize-use-using)
};
template <int W>
using Lanes = typename LanesOf<W>::Real;
/// Whole numbers, and truths: all bits set where true.
template <int W>
using LaneWhole = typename LanesOf<W>::Whole;

template <int W>
inline Lanes<W> lanes_of(double value) {
  return value - Lanes<W>{};
}

template <int W>
inline Lanes<W> lane_load(const double* from) {
  Lanes<W> to;
  __builtin_memcpy(&to, from, sizeof to);
  return to;
}

template <int W>
inline void lane_store(double* to, Lanes<W> from) {
  __builtin_memcpy(to, &from, sizeof from);
}

template <int W>
inline LaneWhole<W> lane_bits(Lanes<W> value) {
  return reinterpret_cast<LaneWhole<W>>(
      value);  // NOLINT(cppcoreguidelines-pro-type-reinterpret-cast)
}

template <int W>
inline Lanes<W> lane_real(LaneWhole<W> bits) {
  return reinterpret_cast<Lanes<W>>(bits);  // NOLINT(cppcoreguidelines-pro-type-reinterpret-cast)
}

template <int W>
inline Lanes<W> lane_min(Lanes<W> a, Lanes<W> b) {
  return a < b ? a : b;
}

template <int W>
inline Lanes<W> lane_max(Lanes<W> a, Lanes<W> b) {
  return a > b ? a : b;
}

template <int W>
inline Lanes<W> lane_abs(Lanes<W> a) {
  return lane_real<W>(lane_bits<W>(a) & INT64_MAX);
}

template <int W>
inline Lanes<W> lane_sqrt(Lanes<W> a) {
  Lanes<W> root{};
  for (int l = 0; l < W; ++l) root[l] = __builtin_sqrt(a[l]);
  return root;
}

template <int W>
inline bool lane_any(LaneWhole<W> truth) {
  std::int64_t all = 0;
  for (int l = 0; l < W; ++l) all |= truth[l];
  return all != 0;
}

/// Finite, and not NaN.
template <int W>
inline LaneWhole<W> lane_finite(Lanes<W> a) {
  return reinterpret_cast<LaneWhole<W>>(lane_abs<W>(a) <= 1.7976931348623157e308);  // NOLINT
}

// Added and taken off again, rounds to a whole number, which stands in the last bits meanwhile.
inline constexpr double kRounder = 6755399441055744.0;            // 1.5 * 2^52
inline constexpr std::int64_t kRounderBits = 0x4338000000000000;  // its bits
inline constexpr double kLn2High = 0x1.62e42fefa38p-1;            // 41 bits: exact times a whole k
inline constexpr double kLn2Low = 0x1.ef35793c7673p-45;

/// e^x within 1.5 units in the last place for -708 <= x <= 709; as at these ends beyond them. By
/// x = k ln 2 + r, |r| <= ln 2 / 2, and the series of e^r to r^13 (remainder below 4e-18).
template <int W>
inline Lanes<W> lane_exp(Lanes<W> x) {
  x = lane_max<W>(lane_min<W>(x, lanes_of<W>(709.0)), lanes_of<W>(-708.0));
  const Lanes<W> shifted = x * 1.4426950408889634074 + kRounder;
  const Lanes<W> k = shifted - kRounder;
  const Lanes<W> r = (x - k * kLn2High) - k * kLn2Low;
  Lanes<W> sum = r * (1.0 / 6227020800) + 1.0 / 479001600;
  sum = sum * r + 1.0 / 39916800;
  sum = sum * r + 1.0 / 3628800;
  sum = sum * r + 1.0 / 362880;
  sum = sum * r + 1.0 / 40320;
  sum = sum * r + 1.0 / 5040;
  sum = sum * r + 1.0 / 720;
  sum = sum * r + 1.0 / 120;
  sum = sum * r + 1.0 / 24;
  sum = sum * r + 1.0 / 6;
  sum = sum * r + 0.5;
  sum = (sum * r) * r + r + 1.0;
  const LaneWhole<W> exponent = lane_bits<W>(shifted) - kRounderBits;
  return sum * lane_real<W>((exponent + 1023) << 52);
}

/// ln x within 2 units in the last place for normal x > 0. By x = 2^e (1 + f) with 1 + f between
/// the roots of 1/2 and 2, and ln(1 + f) = 2 artanh s = f - s (f - R), s = f / (2 + f), R the series
/// of 2 s^2 / 3 + 2 s^4 / 5 + ... to s^22 (remainder below 1e-19).
template <int W>
inline Lanes<W> lane_log(Lanes<W> x) {
  constexpr std::int64_t kRootOfHalf = 0x3FE6A09E667F3BCD;
  const LaneWhole<W> bits = lane_bits<W>(x);
  const LaneWhole<W> e = (bits - kRootOfHalf) >> 52;
  const Lanes<W> f = lane_real<W>(bits - (e << 52)) - 1.0;
  const Lanes<W> exponent = lane_real<W>(e + kRounderBits) - kRounder;
  const Lanes<W> s = f / (f + 2.0);
  const Lanes<W> z = s * s;
  Lanes<W> sum = z * (2.0 / 23) + 2.0 / 21;
  sum = sum * z + 2.0 / 19;
  sum = sum * z + 2.0 / 17;
  sum = sum * z + 2.0 / 15;
  sum = sum * z + 2.0 / 13;
  sum = sum * z + 2.0 / 11;
  sum = sum * z + 2.0 / 9;
  sum = sum * z + 2.0 / 7;
  sum = sum * z + 2.0 / 5;
  sum = sum * z + 2.0 / 3;
  sum = sum * z;
  return exponent * kLn2High + (f - (s * (f - sum) - exponent * kLn2Low));
}

/// All of it under the names that one double has in numerics/scalar.hpp, for templates that serve
/// both.
template <int W>
struct SideBySide {
  using Real = Lanes<W>;
  using Truth = LaneWhole<W>;
  static constexpr int kWidth = W;

  static Real all(double value) { return lanes_of<W>(value); }
  static Real at(const double* array, std::size_t i) { return lane_load<W>(array + i * W); }
  static void put(double* array, std::size_t i, Real value) { lane_store<W>(array + i * W, value); }
  static double get(Real from, int lane) { return from[lane]; }
  static void set(Real& to, int lane, double value) { to[lane] = value; }
  static Real lower(Real a, Real b) { return lane_min<W>(a, b); }
  static Real higher(Real a, Real b) { return lane_max<W>(a, b); }
  static Real choose(Truth truth, Real a, Real b) { return truth ? a : b; }
  static bool any(Truth truth) { return lane_any<W>(truth); }
  static bool every(Truth truth) { return !lane_any<W>(~truth); }
  static Real root(Real a) { return lane_sqrt<W>(a); }
  static Real exp(Real a) { return lane_exp<W>(a); }
  static Real log(Real a) { return lane_log<W>(a); }
  /// ln(1 + a), a >= 0; within 2e-16, where the logarithm is added to others.
  static Real log_1_plus(Real a) { return lane_log<W>(1.0 + a); }
};

}  // namespace
}  // namespace aeruca::detail
