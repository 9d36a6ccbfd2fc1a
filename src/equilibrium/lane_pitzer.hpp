#pragma once

// Pitzer's equations in lanes: what binds every species to every other, so that I + K of the full
// stage is dense over the species that move anyone's activity (refine.hpp), and the test of
// stability asks for the factors of I + K (stability.hpp).

#include "equilibrium/lane_solver.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

// (I + K) X = [reduced | lack] with K(i,j) = m_j d(ln gamma_i - w_i ln a(w)) / d m_j, for the major
// ones by elimination, for everyone from these: so a species that is major to a neighbour only is
// treated as any other.
template <int W>
void LaneSolver<W>::solve_dense(const Model& model, M& sound) {
  const std::size_t width = p_.free;
  const std::size_t rights = width + 1;
  const V root = lane_sqrt<W>(lane_max<W>(model.strength, all(1e-16)));
  std::size_t count = 0;
  for (std::size_t i = 0; i < p_.species; ++i) {
    place_[i] = is_major(i, root) ? count : kNoColumn;
    if (place_[i] != kNoColumn) chosen_[count++] = i;
  }
  pitzer_.slopes(m_, place_, count, slope_);
  weigh_slopes(count, root);
  double* right = next_;
  for (std::size_t a = 0; a < count; ++a) {
    const std::size_t i = chosen_[a];
    for (std::size_t b = 0; b < count; ++b) {
      const V k = at(slope_, i * count + b);
      put(coupling_, a * count + b, a == b ? 1.0 + k : k);
    }
    for (std::size_t f = 0; f < width; ++f)
      put(right, a * rights + f, all(p_.reduced[i * width + f]));
    put(right, a * rights + width, at(lack_, i));
  }
  eliminate(coupling_, count, right, rights, sound);
  for (std::size_t i = 0; i < p_.species; ++i) {
    V row[kMostFree + 1];  // NOLINT(modernize-avoid-c-arrays)
    for (std::size_t f = 0; f < width; ++f) row[f] = all(p_.reduced[i * width + f]);
    row[width] = at(lack_, i);
    for (std::size_t b = 0; b < count; ++b) {
      const V k = at(slope_, i * count + b);
      for (std::size_t c = 0; c < rights; ++c) row[c] -= k * at(right, b * rights + c);
    }
    double* response = response_ + i * (width + 3) * W;
    for (std::size_t c = 0; c < rights; ++c) put(response, c, row[c]);
  }
}

// From d ln gamma_i / d m_j to K.
template <int W>
void LaneSolver<W>::weigh_slopes(std::size_t count, V root) {
  for (std::size_t b = 0; b < count; ++b) put(omega_, b, all(1));
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V m = at(m_, i);
    for (std::size_t b = 0; b < count; ++b)
      put(omega_, b, at(omega_, b) + m * at(slope_, i * count + b));
  }
  for (std::size_t b = 0; b < count; ++b) {
    const V weight = major(chosen_[b], root);
    const V omega = -kWaterMolarMass * at(omega_, b);  // d ln a(w) / d m_b
    for (std::size_t i = 0; i < p_.species; ++i) {
      const std::size_t k = i * count + b;
      put(slope_, k, weight * (at(slope_, k) - p_.reduced_water[i] * omega));
    }
  }
}

// Stable where the norm of K, scaled to be symmetric, is below 1, or where I + K over neutral changes
// has Cholesky factors. Those below a share of all molality count as absent, by lane.
template <int W>
auto LaneSolver<W>::stable_dense(const Model& model) -> M {
  const V least = kLeastShare * model.sum;
  std::size_t count = 0;
  for (std::size_t i = 0; i < p_.species; ++i) {
    place_[i] = lane_any<W>(at(m_, i) > least) ? count : kNoColumn;
    if (place_[i] != kNoColumn) chosen_[count++] = i;
  }
  pitzer_.slopes(m_, place_, count, slope_);
  const auto root_of = [&](std::size_t i) {
    const V m = at(m_, i);
    return m > least ? lane_sqrt<W>(m) : all(0);
  };
  V norm = all(0);
  for (std::size_t a = 0; a < count; ++a) {
    const V mine = root_of(chosen_[a]);
    for (std::size_t b = 0; b <= a; ++b) {
      const V k = mine * root_of(chosen_[b]) * at(slope_, chosen_[a] * count + b);
      put(coupling_, a * count + b, k);
      put(coupling_, b * count + a, k);
      norm += (a == b ? 1.0 : 2.0) * k * k;
    }
    put(omega_, a, p_.charge[chosen_[a]] * mine);
  }
  const M surely = norm < all(kStableNorm * kStableNorm);
  const M open = ~surely & (outcome_ == all(kHeld));
  return lane_any<W>(open) ? surely | has_factors(count) : surely;
}

// K projected on the neutral changes, (1 - q q') K (1 - q q'), plus 1 less what is nearly unstable:
// all pivots positive?
template <int W>
auto LaneSolver<W>::has_factors(std::size_t count) -> M {
  double* image = next_;
  V length = all(0);
  for (std::size_t a = 0; a < count; ++a) length += at(omega_, a) * at(omega_, a);
  const V scale = 1.0 / lane_sqrt<W>(lane_max<W>(length, all(1e-300)));
  for (std::size_t a = 0; a < count; ++a) put(omega_, a, scale * at(omega_, a));
  V twice = all(0);
  for (std::size_t a = 0; a < count; ++a) {
    V sum = all(0);
    for (std::size_t b = 0; b < count; ++b) sum += at(coupling_, a * count + b) * at(omega_, b);
    put(image, a, sum);
    twice += sum * at(omega_, a);
  }
  for (std::size_t a = 0; a < count; ++a) {
    for (std::size_t b = 0; b <= a; ++b) {
      const V q = at(omega_, a);
      const V r = at(omega_, b);
      const V k =
          at(coupling_, a * count + b) + twice * q * r - q * at(image, b) - at(image, a) * r;
      put(coupling_, a * count + b, a == b ? kStableNorm + k : k);
    }
  }
  M good = ~M{};
  for (std::size_t k = 0; k < count; ++k) {
    const V pivot = at(coupling_, k * count + k);
    good &= pivot > all(kLeastPivot);
    const V inverse = 1.0 / lane_max<W>(pivot, all(kLeastPivot));
    for (std::size_t i = k + 1; i < count; ++i) {
      const V factor = at(coupling_, i * count + k) * inverse;
      for (std::size_t j = k + 1; j <= i; ++j)
        put(coupling_, i * count + j,
            at(coupling_, i * count + j) - factor * at(coupling_, j * count + k));
    }
  }
  return good;
}

}  // namespace
}  // namespace aeruca::detail
