#include "bath/modes.hpp"

#include <algorithm>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <numbers>
#include <utility>

namespace aeruca::detail {
namespace {

// j1(z) = sin z / z^2 - cos z / z cancels below about 0.5; the series does not.
double spherical_j1(double z) {
  if (std::abs(z) > 0.5) return (std::sin(z) / z - std::cos(z)) / z;
  const double s = z * z;
  return z / 3 * (1 - s / 10 * (1 - s / 28 * (1 - s / 54 * (1 - s / 88 * (1 - s / 130)))));
}

// The n-th positive zero of phi': between two neighbours lies exactly one root (Sturm).
double slope_zero(BodyShape shape, std::size_t n) {
  const auto order = static_cast<double>(n);
  if (shape == BodyShape::slab) return order * std::numbers::pi;
  if (shape == BodyShape::cylinder) {
    return boost::math::cyl_bessel_j_zero(1.0, static_cast<int>(n));
  }
  const double s = (order + 0.5) * std::numbers::pi;  // tan z = z, by its asymptotic series
  double z = s - 1 / s - 2 / (3 * s * s * s);
  for (int step = 0; step < 4; ++step)
    z -= (std::sin(z) / std::cos(z) - z) / std::pow(std::tan(z), 2);
  return z;
}

struct RootEquation {
  BodyShape shape;
  double alpha, biot;

  // E(q) = phi + phi' (q/Bi - d/(alpha q)) and dE/dq, with phi'' = -phi - (d-1) phi'/q.
  std::pair<double, double> operator()(double q) const {
    const int d = dimension(shape);
    const double value = mode_value(shape, q);
    const double slope = mode_slope(shape, q);
    const double weight = q / biot - d / (alpha * q);
    const double curvature = -value - (d - 1) * slope / q;
    return {value + slope * weight,
            slope + curvature * weight + slope * (1 / biot + d / (alpha * q * q))};
  }
};

double root_between(const RootEquation& equation, double low, double high) {
  // E is positive at 0 and takes alternating signs at the zeros of phi'.
  const double start = low == 0 ? high * 1e-12 : low;
  std::uintmax_t steps = 200;
  const double root = boost::math::tools::newton_raphson_iterate(equation, 0.5 * (low + high),
                                                                 start, high, 53, steps);
  return root;
}

// int_0^1 2x J0(px) J0(qx) dx for p near q: expansion about s = (p+q)/2 in h = (q-p)/2, even in h.
double near_cylinder_overlap(double p, double q) {
  const double s = 0.5 * (p + q);
  const double h = 0.5 * (q - p);
  const double j0 = mode_value(BodyShape::cylinder, s);
  const double j1 = -mode_slope(BodyShape::cylinder, s);
  const double squares = j0 * j0 + j1 * j1;
  const double a = (std::pow(s, 4) * squares + 2 * (s * s * s * j0 * j1 - s * s * j1 * j1)) / 6;
  const double b = a - s * s * s * j0 * j1 + s * s * j1 * j1;
  return squares + 2 * h * h * (0.5 * s * s * j1 * j1 - a - b) / std::pow(s, 4);
}

double sine_ratio(double z) {
  return std::abs(z) < 1e-8 ? 1.0 : std::sin(z) / z;
}

// int f g dv of two modes that nearly coincide.
double near_overlap(BodyShape shape, double p, double q) {
  if (shape == BodyShape::cylinder) return near_cylinder_overlap(p, q);
  const double sum = shape == BodyShape::slab ? sine_ratio(p + q) : -sine_ratio(p + q);
  return 0.5 * (sine_ratio(q - p) + sum) * (shape == BodyShape::slab ? 1.0 : 3 / (p * q));
}

}  // namespace

int dimension(BodyShape shape) {
  return static_cast<int>(shape) + 1;
}

double mode_value(BodyShape shape, double z) {
  if (shape == BodyShape::slab) return std::cos(z);
  return shape == BodyShape::cylinder ? boost::math::cyl_bessel_j(0, z) : sine_ratio(z);
}

double mode_slope(BodyShape shape, double z) {
  if (shape == BodyShape::slab) return -std::sin(z);
  return shape == BodyShape::cylinder ? -boost::math::cyl_bessel_j(1, z) : -spherical_j1(z);
}

ModeSet make_modes(BodyShape shape, double alpha, double biot, std::size_t count) {
  const int d = dimension(shape);
  const RootEquation equation{shape, alpha, biot};
  ModeSet set{shape, alpha, {}, {}, {}, {}, {}};
  for (auto* column : {&set.q, &set.value, &set.slope, &set.mean, &set.norm}) column->resize(count);
  double low = 0;
  for (std::size_t n = 0; n < count; ++n) {
    const double high = slope_zero(shape, n + 1);
    const double q = root_between(equation, low, high);
    const double f = mode_value(shape, q);
    const double g = mode_slope(shape, q);
    const double mean = -d * g / q;
    set.q[n] = q;
    set.value[n] = f;
    set.slope[n] = g;
    set.mean[n] = mean;
    set.norm[n] = 0.5 * d * (f * f + g * g + (d - 2) * f * g / q) + mean * mean / alpha;
    low = high;
  }
  return set;
}

const ModeSet& ModeLibrary::get(double alpha, std::size_t count) {
  ModeSet& set = sets_[alpha];
  if (set.q.size() < count) set = make_modes(shape_, alpha, biot_, count);
  return set;
}

// Green: int f g dv (p^2 - q^2) = d (f g' - g f') at 1. Where p and q nearly meet, at most once
// among the neighbours of j since both sets interlace with the zeros of phi', the quotient gives
// way to its limit.
double project_on(const ModeSet& from, const std::vector<double>& amplitude, const ModeSet& to,
                  std::size_t j) {
  const double q = to.q[j];
  const std::size_t count = amplitude.size();
  double near = 0;
  const std::size_t first = j > 0 ? j - 1 : 0;
  const std::size_t last = std::min(count, j + 2);
  double values = 0;
  double slopes = 0;
  const auto add = [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const double share = amplitude[i] / ((from.q[i] - q) * (from.q[i] + q));
      values += share * from.value[i];
      slopes += share * from.slope[i] * from.q[i];
    }
  };
  add(0, std::min(first, count));
  for (std::size_t i = first; i < last; ++i) {
    if (std::abs(from.q[i] - q) > 1e-3)
      add(i, i + 1);
    else
      near += amplitude[i] * near_overlap(from.shape, from.q[i], q);
  }
  if (last > first) add(last, count);
  return near + dimension(from.shape) * (values * q * to.slope[j] - slopes * to.value[j]);
}

double tail_bound(BodyShape shape, InitialLoad load, double q_last, double tau) {
  // Terms are below 2d/q^2 (uniform) or 2/q (at the metal), spaced by pi.
  const double decay = std::exp(-q_last * q_last * tau);
  if (load == InitialLoad::uniform)
    return 2 * dimension(shape) * decay / (std::numbers::pi * q_last);
  return decay * std::min(1.0, 1 / (std::numbers::pi * q_last * q_last * tau));
}

std::size_t modes_needed(BodyShape shape, InitialLoad load, double tau, double accuracy) {
  double q = std::sqrt(std::log(1 / accuracy) / tau);
  // A coarse walk down: the bound falls steeply, a few per cent more modes than needed do not
  // matter.
  while (tail_bound(shape, load, 0.97 * q, tau) < accuracy) q *= 0.97;
  while (tail_bound(shape, load, q, tau) > accuracy) q *= 1.03;
  return static_cast<std::size_t>(std::min(q / std::numbers::pi, 1e9)) + 3;
}

}  // namespace aeruca::detail
