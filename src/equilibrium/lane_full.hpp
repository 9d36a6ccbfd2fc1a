#pragma once

// The full stage in lanes (refine.hpp): Newton with the derivatives of the activity.

#include "equilibrium/lane_solver.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

// Newton on ln m and the potentials together, with the derivatives of the activity.
template <int W>
void LaneSolver<W>::full() {
  V previous = all(1e300);
  M done = ~alive_;
  choose_balance();
  for (int round = 0; round < kMostFullRounds; ++round) {
    molalities();
    const Model model = activity(lack_);
    // A lane that is done keeps its ln a(w), as it keeps its potentials and molalities.
    ln_water_ = done ? ln_water_ : model.ln_water;
    V error = balances();
    for (std::size_t i = 0; i < p_.species; ++i) {
      const V lack = linear(i) - at(lack_, i) - at(u_, i);
      put(lack_, i, lack);
      error = lane_max<W>(error, lane_abs<W>(lack));
    }
    const M finite = lane_finite<W>(error);
    alive_ &= finite | done;
    done |= ~finite;
    done |= (error < all(kDoneFully)) | ((error < all(kDoneWell)) & (error > 0.5 * previous));
    if (!lane_any<W>(~done)) return;
    previous = done ? previous : error;
    M sound = ~M{};
    newton_step(model, ~done, sound);
    alive_ &= sound | done;
    done |= ~sound;
  }
  alive_ &= done;
}

// (I + K) X = [reduced | lack] by species, then the potentials, then both moved.
template <int W>
void LaneSolver<W>::newton_step(const Model& model, M moving, M& sound) {
  const std::size_t width = p_.free;
  const std::size_t columns = width + 3;  // and the two outer products
  solve_coupling(model, sound);
  for (std::size_t f = 0; f < width; ++f) {
    for (std::size_t g = 0; g < width; ++g) put(jacobian_, f * width + g, all(0));
    V right = -at(residual_, f);
    const V up = 1.0 / at(positive_, f);
    const V down = 1.0 / at(negative_, f);
    for (std::size_t i = 0; i < p_.species; ++i) {
      if (!takes_part(i, f)) continue;
      const double* response = response_ + i * columns * W;
      const V mine = weight(i, f, up, down);
      for (std::size_t g = 0; g < width; ++g)
        put(jacobian_, f * width + g, at(jacobian_, f * width + g) + mine * at(response, g));
      right -= mine * at(response, width);
    }
    put(direction_, f, right);
  }
  eliminate(jacobian_, width, direction_, 1, sound);
  if (p_.hydrogen_open) {  // the last pivot: what is left for charge when all others have answered
    const M rising = at(jacobian_, width * width - 1) > all(0);
    rises_ = moving ? rising : rises_;
  }
  const V matters = lane_log<W>(1e-6 * model.sum);
  V step = all(1);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double* response = response_ + i * columns * W;
    V change = at(response, width);
    for (std::size_t f = 0; f < width; ++f) change += at(response, f) * at(direction_, f);
    put(pair_sum_, i, change);
    sound &= lane_finite<W>(change);
    const V reach = lane_abs<W>(change);
    const M far =
        (reach > all(kLongestChange)) & (at(u_, i) + lane_max<W>(change, all(0)) > matters);
    step = far ? lane_min<W>(step, kLongestChange / reach) : step;
  }
  moving &= sound;
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V u = at(u_, i);
    put(u_, i, moving ? u + step * at(pair_sum_, i) : u);
  }
  for (std::size_t f = 0; f < width; ++f) {
    const V lambda = at(lambda_, f);
    put(lambda_, f, moving ? lambda + step * at(direction_, f) : lambda);
  }
}

template <int W>
void LaneSolver<W>::solve_coupling(const Model& model, M& sound) {
  const std::size_t width = p_.free;
  const std::size_t columns = width + 3;
  if (p_.pitzer.species > 0) return solve_dense(model, sound);
  // Right sides: rows, lack, and the columns U of the outer products.
  for (std::size_t i = 0; i < p_.species; ++i) {
    double* response = response_ + i * columns * W;
    for (std::size_t f = 0; f < width; ++f) put(response, f, all(p_.reduced[i * width + f]));
    put(response, width, at(lack_, i));
    put(response, width + 1, (-0.5 * p_.charge[i] * p_.charge[i]) * model.slope);
    put(response, width + 2, all(-p_.reduced_water[i]));
  }
  if (p_.cation_count > 0) solve_pairs(model, sound);
  // V' X, with V the rows z^2 m and (d ln a(w) / d m) m.
  V law[kMostFree + 3];    // NOLINT(modernize-avoid-c-arrays)
  V water[kMostFree + 3];  // NOLINT(modernize-avoid-c-arrays)
  for (std::size_t c = 0; c < columns; ++c) law[c] = water[c] = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double* response = response_ + i * columns * W;
    const double square = p_.charge[i] * p_.charge[i];
    const V m = at(m_, i);
    const V omega =
        (-kWaterMolarMass * m) * (1.0 + at(pair_sum_, i) - square * (model.slope * model.strength));
    const V weight = square * m;
    for (std::size_t c = 0; c < columns; ++c) {
      const V x = at(response, c);
      law[c] += weight * x;
      water[c] += omega * x;
    }
  }
  const V a = 1.0 + law[width + 1];
  const V b = law[width + 2];
  const V c = water[width + 1];
  const V d = 1.0 + water[width + 2];
  const V inverse = 1.0 / (a * d - b * c);
  sound &= lane_finite<W>(inverse);
  for (std::size_t k = 0; k <= width; ++k) {
    const V s = (d * law[k] - b * water[k]) * inverse;
    const V t = (a * water[k] - c * law[k]) * inverse;
    law[k] = s;
    water[k] = t;
  }
  for (std::size_t i = 0; i < p_.species; ++i) {
    double* response = response_ + i * columns * W;
    const V u = at(response, width + 1);
    const V v = at(response, width + 2);
    for (std::size_t k = 0; k <= width; ++k)
      put(response, k, at(response, k) - u * law[k] - v * water[k]);
  }
}

// (I + E) X = Y: with Y_a' = Y_a - E_ac Y_c, (I - E_ac E_ca) X_a = Y_a', X_c = Y_c - E_ca X_a.
// Ions too dilute to move anyone's activity count as absent in E.
template <int W>
void LaneSolver<W>::solve_pairs(const Model& model, M& sound) {
  const std::size_t columns = p_.free + 3;
  const std::size_t na = p_.anion_count;
  const V root = lane_sqrt<W>(lane_max<W>(model.strength, all(1e-16)));
  std::size_t anions[kMostIons];   // NOLINT(modernize-avoid-c-arrays)
  std::size_t cations[kMostIons];  // NOLINT(modernize-avoid-c-arrays)
  std::size_t count_a = 0;
  std::size_t count_c = 0;
  for (std::size_t a = 0; a < na; ++a) {
    if (is_major(p_.anions[a], root)) anions[count_a++] = a;
  }
  for (std::size_t c = 0; c < p_.cation_count; ++c) {
    if (is_major(p_.cations[c], root)) cations[count_c++] = c;
  }
  // Right sides of the major anions, from all major cations.
  for (std::size_t a = 0; a < count_a; ++a) {
    double* mine = response_ + p_.anions[anions[a]] * columns * W;
    double* kept = coupled(a);
    for (std::size_t k = 0; k < columns; ++k) put(kept, k, at(mine, k));
    for (std::size_t b = 0; b < count_a; ++b) put(coupling_, a * count_a + b, all(a == b ? 1 : 0));
    for (std::size_t c = 0; c < count_c; ++c) {
      const std::size_t i = p_.cations[cations[c]];
      const double* its = response_ + i * columns * W;
      const V e = p_.interaction[cations[c] * na + anions[a]] * major(i, root);
      for (std::size_t k = 0; k < columns; ++k) put(kept, k, at(kept, k) - e * at(its, k));
      for (std::size_t b = 0; b < count_a; ++b) {
        const double epsilon = p_.interaction[cations[c] * na + anions[b]];
        put(coupling_, a * count_a + b,
            at(coupling_, a * count_a + b) - e * (epsilon * major(p_.anions[anions[b]], root)));
      }
    }
  }
  eliminate(coupling_, count_a, coupled(0), columns, sound);
  // Every cation from the major anions; then every anion from the major cations.
  for (std::size_t c = 0; c < p_.cation_count; ++c) {
    double* mine = response_ + p_.cations[c] * columns * W;
    for (std::size_t a = 0; a < count_a; ++a) {
      const V e = p_.interaction[c * na + anions[a]] * major(p_.anions[anions[a]], root);
      const double* its = coupled(a);
      for (std::size_t k = 0; k < columns; ++k) put(mine, k, at(mine, k) - e * at(its, k));
    }
  }
  for (std::size_t a = 0; a < na; ++a) {
    double* mine = response_ + p_.anions[a] * columns * W;
    for (std::size_t c = 0; c < count_c; ++c) {
      const V e = p_.interaction[cations[c] * na + a] * major(p_.cations[cations[c]], root);
      const double* its = response_ + p_.cations[cations[c]] * columns * W;
      for (std::size_t k = 0; k < columns; ++k) put(mine, k, at(mine, k) - e * at(its, k));
    }
  }
}

template <int W>
auto LaneSolver<W>::matters(std::size_t i, V root) const -> M {
  const double square = p_.charge[i] * p_.charge[i];
  return at(m_, i) * (1.0 + square / root) > all(kMajorShare);
}

}  // namespace
}  // namespace aeruca::detail
