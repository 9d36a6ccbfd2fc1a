#pragma once

// Electrostatic mixing of ions of like sign and unlike charge: Pitzer 1975, J. Solution Chem. 4,
// 249, doi 10.1007/BF00646562, eq 46:
//   J(x) = x/4 - 1 + (1/x) int_0^inf [1 - exp(-(x/y) e^-y)] y^2 dy.

namespace aeruca::detail {

/// h = J(x) / x^2 and its derivatives by s = ln x. J itself is x^2 h, x J' = x^2 (2 h + h').
/// Absolute error below 1e-10 of h(s) and 1e-8 of h'' for x from 1e-6 to 1e5; the limiting law is
/// continued below, where h is straight in s to within x.
struct UnsymmetricJ {
  double h = 0, slope = 0, curvature = 0;
};
[[nodiscard]] UnsymmetricJ unsymmetric_j(double s);

/// Chebyshev coefficients of h by piece (unsymmetric_series.hpp), fitted once.
[[nodiscard]] const double* unsymmetric_table();

/// J(x) / x^2 by quadrature (trapezoid in ln y, relative error below 1e-12); slow.
[[nodiscard]] double unsymmetric_j_quadrature(double x);

}  // namespace aeruca::detail
