#include "numerics/contour.hpp"

#include <cmath>
#include <numbers>

namespace aeruca::detail {

std::vector<ContourPoint> exponential_contour(std::size_t points) {
  constexpr double kCot = 0.5017;
  constexpr double kAngle = 0.6407;
  constexpr double kShift = 0.6122;
  constexpr double kSlope = 0.2645;
  using namespace std::complex_literals;
  const double n = 2 * static_cast<double>(points);
  std::vector<ContourPoint> contour;
  for (std::size_t k = 0; k < points; ++k) {
    const double theta = (2 * static_cast<double>(k) + 1) * std::numbers::pi / n;
    const double cotangent = 1 / std::tan(kAngle * theta);
    const double sine = std::sin(kAngle * theta);
    const std::complex<double> node = n * (kCot * theta * cotangent - kShift + kSlope * 1i * theta);
    const std::complex<double> slope =
        n * (kCot * cotangent - kCot * kAngle * theta / (sine * sine) + kSlope * 1i);
    contour.push_back({node, 2.0 / (1i * n) * std::exp(node) * slope});
  }
  return contour;
}

}  // namespace aeruca::detail
