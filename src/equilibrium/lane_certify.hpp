#pragma once

// What ends a solve in lanes: the solids, and the certificate (certify.hpp).

#include "equilibrium/lane_solver.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

// The solid most above saturation, counted by what the potential of its scarcest component would
// have to fall. After the first guess only those far above count: most that will form show then.
template <int W>
void LaneSolver<W>::look_for_solid(V above) {
  complete(ln_water_);
  V worst = above;
  for (std::size_t s = 0; s < p_.phases; ++s) {
    if (is_tied(s)) continue;
    const double* row = p_.phase + s * p_.columns;
    V least = all(1e300);
    V coefficient = all(1);
    for (std::size_t j = 0; j < p_.columns; ++j) {
      if (p_.mass[j] == 0 || row[j] <= 0) continue;
      const V available = at(w_.totals, j) * (1 / row[j]);
      const M scarcer = available < least;
      least = scarcer ? available : least;
      coefficient = scarcer ? all(row[j]) : coefficient;
    }
    const V fall =
        expression(row, p_.phase_constant[s], p_.phase_water[s], ln_water_) / coefficient;
    const M more = (fall > worst) & ((outcome_ == all(kHeld)) | (outcome_ == all(kAddSolid)));
    worst = more ? fall : worst;
    solid_ = more ? all(static_cast<double>(s)) : solid_;
    outcome_ = more ? all(kAddSolid) : outcome_;
  }
}

template <int W>
bool LaneSolver<W>::is_tied(std::size_t phase) const {
  for (std::size_t k = 0; k < p_.tied - p_.pinned; ++k) {
    if (p_.solids[k] == phase) return true;
  }
  return false;
}

// What there is of each solid, from the balances it gave up; the most negative one has to go,
// relative to what its scarcest component allows.
template <int W>
void LaneSolver<W>::find_amounts() {
  if (p_.tied == p_.pinned) return;
  for (std::size_t j = 0; j < p_.columns; ++j) put(net_, j, at(w_.totals, j));
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double* row = p_.row + i * p_.columns;
    for (std::size_t j = 0; j < p_.columns; ++j) {
      if (row[j] != 0) put(net_, j, at(net_, j) - row[j] * at(m_, i));
    }
  }
  V lowest = all(-kNegativeAmount);
  for (std::size_t k = p_.pinned; k < p_.tied; ++k) {
    V amount = all(0);
    for (std::size_t r = 0; r < p_.tied; ++r)
      amount += p_.gave[k * p_.tied + r] * at(net_, p_.tied_column[r]);
    const std::size_t s = p_.solids[k - p_.pinned];
    const double* row = p_.phase + s * p_.columns;
    V least = all(1e300);
    for (std::size_t j = 0; j < p_.columns; ++j) {
      if (p_.mass[j] != 0 && row[j] > 0)
        least = lane_min<W>(least, at(w_.totals, j) * (1 / row[j]));
    }
    const V relative = amount / lane_max<W>(least, all(1e-300));
    const M gone = (relative < lowest) & ((outcome_ == all(kHeld)) | (outcome_ == all(kDropSolid)));
    lowest = gone ? relative : lowest;
    solid_ = gone ? all(static_cast<double>(s)) : solid_;
    outcome_ = gone ? all(kDropSolid) : outcome_;
    put(w_.amount, k - p_.pinned, lane_max<W>(amount, all(0)));
  }
}

template <int W>
void LaneSolver<W>::tell() {
  for (std::size_t i = 0; i < p_.species; ++i) put(w_.ln_molality, i, at(u_, i));
  for (std::size_t j = 0; j < p_.columns; ++j) put(w_.lambda, j, at(all_lambda_, j));
  put(w_.ln_water, 0, ln_water_);
  put(w_.outcome, 0, outcome_);
  put(w_.solid, 0, solid_);
}

// From the bare answer, ln m, the free potentials and the amounts, with the model asked again and
// the rows as they stand in the data set: certify.cpp by lane.
template <int W>
void LaneSolver<W>::certify() {
  molalities();
  const Model model = activity(ln_gamma_);
  // A water that goes on to another group takes its own potentials with it, as its last look left
  // them, whether or not a neighbour had to be certified.
  const V ln_water = outcome_ == all(kHeld) ? model.ln_water : ln_water_;
  complete(ln_water);
  M held = (ln_water <= all(0)) & (ln_water > all(kVeryConcentrated)) &
           (model.sum <= all(kMostMolality));
  held &= balanced();
  held &= neutral();
  held &= no_gap(ln_water);
  held &= saturated(ln_water);
  held &= stable(model);
  ln_water_ = ln_water;
  put(w_.ionic_strength, 0, model.strength);
  outcome_ = (outcome_ == all(kHeld)) & ~held ? all(kAlone) : outcome_;
}

template <int W>
auto LaneSolver<W>::balanced() -> M {
  for (std::size_t j = 0; j < p_.columns; ++j) {
    put(net_, j, -at(w_.totals, j));
    put(absolute_, j, lane_abs<W>(at(w_.totals, j)));
  }
  for (std::size_t i = 0; i < p_.species; ++i) add(p_.row + i * p_.columns, at(m_, i));
  M good = ~M{};
  for (std::size_t j = 0; j < p_.columns; ++j)
    good &= at(net_, j) + at(w_.totals, j) < all(p_.second_answer[j]);
  for (std::size_t k = p_.pinned; k < p_.tied; ++k)
    add(p_.phase + p_.solids[k - p_.pinned] * p_.columns, at(w_.amount, k - p_.pinned));
  for (std::size_t k = 0; k < p_.pinned; ++k) {
    V sum = all(0);
    for (std::size_t r = 0; r < p_.pinned; ++r)
      sum -= p_.reservoir[k * p_.pinned + r] * at(net_, p_.tied_column[r]);
    put(gave_, k, sum);
  }
  for (std::size_t k = 0; k < p_.pinned; ++k) add(p_.pinned_row + k * p_.columns, at(gave_, k));
  for (std::size_t j = 0; j < p_.columns; ++j) {
    if (j != p_.unbalanced) good &= lane_abs<W>(at(net_, j)) <= kCertain * at(absolute_, j);
  }
  return good;
}

template <int W>
void LaneSolver<W>::add(const double* row, V amount) {
  for (std::size_t j = 0; j < p_.columns; ++j) {
    if (row[j] == 0) continue;
    const V part = row[j] * amount;
    put(net_, j, at(net_, j) + part);
    put(absolute_, j, at(absolute_, j) + lane_abs<W>(part));
  }
}

// Activities as the model says, and primal less dual objective.
template <int W>
auto LaneSolver<W>::no_gap(V ln_water) const -> M {
  V gap = all(0);
  V size = all(0);
  V worst = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V expected =
        expression(p_.row + i * p_.columns, p_.row_constant[i], p_.row_water[i], ln_water) -
        at(ln_gamma_, i);
    const V off = at(u_, i) - expected;
    worst = lane_max<W>(worst, lane_abs<W>(off));
    // off - 1 + e^-off, which is off^2 / 2 (1 - off / 3 ...) where the activities hold.
    gap += at(m_, i) * (0.5 * off * off);
    size += at(m_, i) * (1.0 + lane_abs<W>(at(u_, i)));
  }
  for (std::size_t k = 0; k < p_.tied - p_.pinned; ++k) {
    gap -= at(w_.amount, k) * value_of(p_.solids[k], ln_water);
    size += at(w_.amount, k);
  }
  for (std::size_t j = 0; j < p_.columns; ++j) {
    if (p_.hydrogen_open && j == p_.unbalanced) continue;
    gap += at(all_lambda_, j) * at(net_, j);
    size += lane_abs<W>(at(all_lambda_, j)) * at(absolute_, j);
  }
  return (worst <= all(kCertain)) & (lane_abs<W>(gap) <= kCertain * size);
}

template <int W>
auto LaneSolver<W>::value_of(std::size_t phase, V ln_water) const -> V {
  return expression(p_.phase + phase * p_.columns, p_.phase_constant[phase], p_.phase_water[phase],
                    ln_water);
}

// None above saturation, those present at it.
template <int W>
auto LaneSolver<W>::saturated(V ln_water) const -> M {
  V highest = all(-1);
  for (std::size_t s = 0; s < p_.phases; ++s) {
    const V value = value_of(s, ln_water);
    highest = lane_max<W>(highest, is_tied(s) ? lane_abs<W>(value) : value);
  }
  return highest <= all(kCertainSaturation);
}

// Stable where a bound of the norm of K (stability.hpp) is below 1: the pairs by the Frobenius
// norm, the law, -D'/2 times the square of a vector, by its length.
template <int W>
auto LaneSolver<W>::stable(const Model& model) -> M {
  if (p_.pitzer.species > 0) return stable_dense(model);
  V pairs = all(0);
  for (std::size_t c = 0; c < p_.cation_count; ++c) {
    V sum = all(0);
    for (std::size_t a = 0; a < p_.anion_count; ++a) {
      const double epsilon = p_.interaction[c * p_.anion_count + a];
      sum += (epsilon * epsilon) * at(m_, p_.anions[a]);
    }
    pairs += sum * at(m_, p_.cations[c]);
  }
  V fourth = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double square = p_.charge[i] * p_.charge[i];
    fourth += (square * square) * at(m_, i);
  }
  // The pairs bind cations to anions only, so their largest eigenvalue is that of one block.
  return lane_sqrt<W>(pairs) + lane_max<W>(0.5 * model.slope, all(0)) * fourth < all(kStableNorm);
}

}  // namespace
}  // namespace aeruca::detail
