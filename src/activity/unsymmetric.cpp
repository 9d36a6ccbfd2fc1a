#include "activity/unsymmetric.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "activity/unsymmetric_series.hpp"
#include "numerics/scalar.hpp"

namespace aeruca::detail {
namespace {

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

using Piece = std::array<double, kJTerms>;
using Table = std::array<double, kJPieces * kJTerms>;

// Chebyshev coefficients of h on one piece, from its values at the Chebyshev points.
Piece fit_piece(double low) {
  constexpr double kAngle = std::numbers::pi / kJTerms;
  Piece values{};
  Piece coefficients{};
  for (std::size_t k = 0; k < kJTerms; ++k) {
    const double t = std::cos(kAngle * (static_cast<double>(k) + 0.5));
    values[k] = unsymmetric_j_quadrature(std::exp(low + 0.5 * kJLength * (t + 1.0)));
  }
  for (std::size_t m = 0; m < kJTerms; ++m) {
    double sum = 0;
    for (std::size_t k = 0; k < kJTerms; ++k)
      sum += values[k] * std::cos(kAngle * static_cast<double>(m) * (static_cast<double>(k) + 0.5));
    coefficients[m] = (m == 0 ? 1.0 : 2.0) / kJTerms * sum;
  }
  return coefficients;
}

Table fit_all() {
  Table all{};
  for (std::size_t p = 0; p < kJPieces; ++p) {
    const Piece piece = fit_piece(kJLow + kJLength * static_cast<double>(p));
    std::copy(piece.begin(), piece.end(), all.begin() + static_cast<std::ptrdiff_t>(p * kJTerms));
  }
  return all;
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

const double* unsymmetric_table() {
  static const Table table = fit_all();
  return table.data();
}

UnsymmetricJ unsymmetric_j(double s) {
  const auto series = j_series<Scalar>(unsymmetric_table(), s);
  return {series.h, series.slope, series.curvature};
}

}  // namespace aeruca::detail
