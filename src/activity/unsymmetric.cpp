#include "activity/unsymmetric.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace aeruca::detail {
namespace {

constexpr int kPieces = 14;
constexpr int kTerms = 24;
constexpr double kLow = -13.815510557964274;  // ln 1e-6
constexpr double kHigh = 11.512925464970229;  // ln 1e5
constexpr double kLength = (kHigh - kLow) / kPieces;

// 1 - e^-u - u + u^2/2, without cancellation near zero.
double exponential_remainder(double u) {
  if (u > 1.0) return 1.0 - std::exp(-u) - u + 0.5 * u * u;
  double term = u * u * u / 6.0;
  double sum = 0;
  for (int n = 4; std::abs(term) > 1e-18 * std::abs(sum) && n < 40; ++n) {
    sum += term;
    term *= -u / n;
  }
  return sum;
}

using Piece = std::array<double, kTerms>;

// Chebyshev coefficients of h on one piece, from its values at the Chebyshev points.
Piece fit_piece(double low) {
  Piece values{};
  Piece coefficients{};
  for (int k = 0; k < kTerms; ++k) {
    const double t = std::cos(std::numbers::pi * (k + 0.5) / kTerms);
    values[static_cast<std::size_t>(k)] =
        unsymmetric_j_quadrature(std::exp(low + 0.5 * kLength * (t + 1.0)));
  }
  for (int m = 0; m < kTerms; ++m) {
    double sum = 0;
    for (int k = 0; k < kTerms; ++k) {
      sum +=
          values[static_cast<std::size_t>(k)] * std::cos(std::numbers::pi * m * (k + 0.5) / kTerms);
    }
    coefficients[static_cast<std::size_t>(m)] = (m == 0 ? 1.0 : 2.0) / kTerms * sum;
  }
  return coefficients;
}

const std::array<Piece, kPieces>& table() {
  static const auto pieces = [] {
    std::array<Piece, kPieces> all{};
    for (int p = 0; p < kPieces; ++p)
      all[static_cast<std::size_t>(p)] = fit_piece(kLow + kLength * p);
    return all;
  }();
  return pieces;
}

// Clenshaw's recurrence, differentiated twice.
UnsymmetricJ sum_series(const Piece& c, double t) {
  double b1 = 0;
  double b2 = 0;
  double d1 = 0;
  double d2 = 0;
  double e1 = 0;
  double e2 = 0;
  for (std::size_t k = kTerms - 1; k > 0; --k) {
    const double e = 4.0 * d1 + 2.0 * t * e1 - e2;
    const double d = 2.0 * b1 + 2.0 * t * d1 - d2;
    const double b = c[k] + 2.0 * t * b1 - b2;
    e2 = e1, e1 = e;
    d2 = d1, d1 = d;
    b2 = b1, b1 = b;
  }
  return {c[0] + t * b1 - b2, b1 + t * d1 - d2, 2.0 * d1 + t * e1 - e2};
}

}  // namespace

// The terms u and -u^2/2 of the series integrate to 1 and -x/4 and cancel the head of eq 46; what
// is left is taken over ln y, where the trapezoid rule converges exponentially.
double unsymmetric_j_quadrature(double x) {
  constexpr double kStep = 0.0625;
  const double low = std::min(std::log(x), 0.0) - 38.0;
  double sum = 0;
  for (int n = 0;; ++n) {
    const double t = low + kStep * n;
    if (t > 5.0) break;
    const double y = std::exp(t);
    sum += exponential_remainder(x / y * std::exp(-y)) * y * y * y;
  }
  return kStep * sum / (x * x * x);
}

UnsymmetricJ unsymmetric_j(double s) {
  const double inside = std::clamp(s, kLow, kHigh);
  const int piece = std::min(static_cast<int>((inside - kLow) / kLength), kPieces - 1);
  const double t = 2.0 * (inside - kLow - kLength * piece) / kLength - 1.0;
  UnsymmetricJ value = sum_series(table()[static_cast<std::size_t>(piece)], t);
  value.slope *= 2.0 / kLength;
  value.curvature *= 4.0 / (kLength * kLength);
  if (s != inside) {
    value.h += value.slope * (s - inside);
    value.curvature = 0;
  }
  return value;
}

}  // namespace aeruca::detail
