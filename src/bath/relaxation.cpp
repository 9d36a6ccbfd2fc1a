#include "bath/relaxation.hpp"

#include <Eigen/Eigenvalues>
#include <array>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <mutex>
#include <numbers>

#include "bath/modes.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kLast = 4000;  // parts that are summed up one by one; the rest in one

// The n-th positive zero of phi, from 1.
double surface_zero(BodyShape shape, std::size_t n) {
  const auto order = static_cast<double>(n);
  if (shape == BodyShape::slab) return (order - 0.5) * std::numbers::pi;
  if (shape == BodyShape::sphere) return order * std::numbers::pi;
  return boost::math::cyl_bessel_j_zero(0.0, static_cast<int>(n));
}

struct Measure {
  std::vector<double> rate, weight;
};

Measure whole_measure(BodyShape shape) {
  Measure all;
  for (std::size_t n = 1; n <= kLast; ++n) {
    const double zero = surface_zero(shape, n);
    all.rate.push_back(zero * zero);
    all.weight.push_back(2.0 * dimension(shape) / (zero * zero));
  }
  return all;
}

// Nodes and weights of the Gauss rule of a discrete measure in ln(rate): three-term recurrence by
// Stieltjes, then the eigenvalues of its matrix.
void add_band(const Measure& all, std::size_t begin, std::size_t end, int nodes,
              RelaxingParts& parts) {
  const auto count = static_cast<Eigen::Index>(end - begin);
  Eigen::ArrayXd x(count);
  Eigen::ArrayXd w(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    x[i] = std::log(all.rate[begin + static_cast<std::size_t>(i)]);
    w[i] = all.weight[begin + static_cast<std::size_t>(i)];
  }
  Eigen::VectorXd middle(nodes);
  Eigen::VectorXd beside(nodes - 1);
  Eigen::ArrayXd before = Eigen::ArrayXd::Zero(count);
  Eigen::ArrayXd now = Eigen::ArrayXd::Ones(count) / std::sqrt(w.sum());
  double last = 0;
  for (int k = 0; k < nodes; ++k) {
    middle[k] = (w * x * now * now).sum();
    Eigen::ArrayXd next = (x - middle[k]) * now - last * before;
    last = std::sqrt((w * next * next).sum());
    if (k + 1 < nodes) beside[k] = last;
    before = now;
    now = next / last;
  }
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver;
  solver.computeFromTridiagonal(middle, beside);
  for (int k = 0; k < nodes; ++k) {
    const double share = solver.eigenvectors()(0, k);
    parts.rate.push_back(std::exp(solver.eigenvalues()[k]));
    parts.weight.push_back(w.sum() * share * share);
    parts.start.push_back(1);
  }
}

void add_single(const Measure& all, std::size_t n, RelaxingParts& parts) {
  parts.rate.push_back(all.rate[n]);
  parts.weight.push_back(all.weight[n]);
  parts.start.push_back(1);
}

// What lies beyond the last part: as one, with the weight that is missing and the mean time that the
// spacing of the zeros, pi, gives.
void add_rest(const Measure& all, BodyShape shape, RelaxingParts& parts) {
  double weight = 1;
  for (const double part : all.weight) weight -= part;
  const double edge = std::sqrt(all.rate.back()) + 0.5 * std::numbers::pi;
  const double time = 2.0 * dimension(shape) / (3 * std::numbers::pi * edge * edge * edge);
  parts.rate.push_back(weight / time);
  parts.weight.push_back(weight);
  parts.start.push_back(1);
}

struct Bands {
  std::size_t single;  // parts taken as they are
  double widening;     // of n from one band to the next
  int nodes;
};

RelaxingParts make_parts(BodyShape shape, InitialLoad load, Fineness fineness) {
  const bool fine = fineness == Fineness::result;
  const bool at_metal = load == InitialLoad::at_metal;
  Bands bands = fine ? Bands{8, 1.6, 4} : Bands{4, 2.2, 3};
  if (at_metal) bands.single = fine ? 72 : 28;
  const Measure all = whole_measure(shape);
  RelaxingParts parts;
  for (std::size_t n = 0; n < bands.single; ++n) add_single(all, n, parts);
  std::size_t begin = bands.single;
  while (begin < kLast) {
    auto end = static_cast<std::size_t>(bands.widening * static_cast<double>(begin)) + 1;
    if (static_cast<double>(end) * 1.2 > static_cast<double>(kLast)) end = kLast;
    if (end - begin > static_cast<std::size_t>(bands.nodes)) {
      add_band(all, begin, end, bands.nodes, parts);
    } else {
      for (std::size_t n = begin; n < end; ++n) add_single(all, n, parts);
    }
    begin = end;
  }
  add_rest(all, shape, parts);
  if (!at_metal) return parts;
  for (std::size_t n = 0; n < parts.start.size(); ++n) {
    if (n >= bands.single) {
      parts.start[n] = 0;
      continue;
    }
    const double zero = std::sqrt(parts.rate[n]);
    const double place = static_cast<double>(n) / static_cast<double>(bands.single);
    parts.start[n] = (n % 2 == 0 ? 1 : -1) * zero * std::exp(-36 * std::pow(place, 8));
  }
  return parts;
}

}  // namespace

const RelaxingParts& relaxing_parts(BodyShape shape, InitialLoad load, Fineness fineness) {
  if (load == InitialLoad::at_metal && shape != BodyShape::slab) {
    throw InputError("load", "at-metal", "of a slab only");
  }
  static std::array<std::once_flag, 8> made;
  static std::array<RelaxingParts, 8> kept;
  const std::size_t body =
      load == InitialLoad::at_metal ? 3 : static_cast<std::size_t>(dimension(shape) - 1);
  const std::size_t place = 2 * body + (fineness == Fineness::result ? 0 : 1);
  std::call_once(made[place], [&] { kept[place] = make_parts(shape, load, fineness); });
  return kept[place];
}

}  // namespace aeruca::detail
