#pragma once

// The convex stage in lanes (descend.hpp): activity coefficients held.

#include "equilibrium/lane_solver.hpp"
#include "equilibrium/small_power.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

// Potentials that nearly are those of the bare components, and what is pinned, folded away.
template <int W>
void LaneSolver<W>::start() {
  for (std::size_t i = 0; i < p_.species; ++i) {
    V sum = all(p_.constant[i]);
    for (std::size_t k = 0; k < p_.tied; ++k) sum += p_.pin[i * p_.tied + k] * at(w_.tied, k);
    put(base_, i, sum);
    put(ln_gamma_, i, all(0));
  }
  for (std::size_t f = 0; f < p_.free; ++f) {
    V sum = all(0);
    for (std::size_t j = 0; j < p_.columns; ++j) {
      const double share = p_.free_totals[f * p_.columns + j];
      if (share != 0) sum += share * at(w_.totals, j);
    }
    put(total_, f, sum);
    const std::size_t j = p_.free_column[f];
    if (w_.start != nullptr) {
      put(lambda_, f, at(w_.start, j));
    } else {
      put(lambda_, f,
          p_.mass[j] != 0 ? lane_log<W>(lane_max<W>(at(w_.totals, j), all(kTinyPart)))
                          : all((p_.electron[j] != 0 ? -4 : -7) * kLn10));
    }
  }
  ln_water_ = all(0);
  species_from_potentials();
  if (p_.hydrogen != kNone && w_.start == nullptr) find_ph();
  for (int round = 0; round < kSweeps; ++round) sweep(p_.free);
}

// Each of the first `count` free potentials in turn to its own logarithmic balance.
template <int W>
void LaneSolver<W>::sweep(std::size_t count) {
  const std::size_t width = p_.free;
  for (std::size_t f = 0; f < count; ++f) {
    const V total = at(total_, f);
    V positive = lane_max<W>(-total, all(kTinyPart));
    V negative = lane_max<W>(total, all(kTinyPart));
    V up = all(0);
    V down = all(0);
    for (std::size_t i = 0; i < p_.species; ++i) {
      const double r = p_.reduced[i * width + f];
      const double c = share(i, f);
      if (c == 0) continue;
      const V part = c * at(m_, i);
      if (c > 0) {
        positive += part;
        up += r * part;
      } else {
        negative -= part;
        down += r * part;
      }
    }
    const V curvature = up / positive + down / negative;
    V change = -lane_log<W>(positive / negative) / curvature;
    change = lane_max<W>(lane_min<W>(change, all(kLongestSweep)), all(-kLongestSweep));
    move(f, curvature > all(1e-6) ? change : all(0));
  }
}

// A free potential, and all molalities with it.
template <int W>
void LaneSolver<W>::move(std::size_t f, V change) {
  put(lambda_, f, at(lambda_, f) + change);
  const V factor = lane_exp<W>(change);
  const V inverse = 1.0 / factor;
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double r = p_.reduced[i * p_.free + f];
    if (r == 0) continue;
    const V moved = at(m_, i) * small_power<SideBySide<W>>(factor, inverse, r);
    put(m_, i, lane_min<W>(moved, all(1e100)));
  }
}

// Newton on ln(P / N), activity coefficients held.
template <int W>
void LaneSolver<W>::logarithmic_direction(M& sound) {
  const std::size_t width = p_.free;
  for (std::size_t f = 0; f < width; ++f) {
    for (std::size_t g = 0; g < width; ++g) put(jacobian_, f * width + g, all(0));
    put(direction_, f, -at(residual_, f));
    const V up = 1.0 / at(positive_, f);
    const V down = 1.0 / at(negative_, f);
    for (std::size_t i = 0; i < p_.species; ++i) {
      if (!takes_part(i, f)) continue;
      const double* row = p_.reduced + i * width;
      const V mine = weight(i, f, up, down);
      for (std::size_t g = 0; g < width; ++g) {
        if (row[g] != 0)
          put(jacobian_, f * width + g, at(jacobian_, f * width + g) + row[g] * mine);
      }
    }
  }
  eliminate(jacobian_, width, direction_, 1, sound);
}

// Ideal first; then with the activity coefficients of that answer, held, a second time. A lane is
// `settled` where its guess stands; it then waits unmoved.
template <int W>
void LaneSolver<W>::convex() {
  const std::size_t width = p_.free;
  M settled = M{};
  M sound = ~M{};
  M trying = M{};  // lanes whose last step is on trial
  M second = M{};  // lanes that have their activity coefficients
  V step = all(0);
  V first = all(0);
  V before = all(0);  // what was lacking where the step began
  for (std::size_t f = 0; f < width; ++f) put(direction_, f, all(0));
  for (int round = 0; round < kMostRounds; ++round) {
    species_from_potentials();
    const V error = balances();
    // The slope of the convex objective at the end of the step: risen too far, it was too long.
    V last = all(0);
    V size = all(0);
    for (std::size_t f = 0; f < width; ++f) {
      const V along = at(direction_, f);
      last += (at(positive_, f) - at(negative_, f)) * along;
      size += (at(positive_, f) + at(negative_, f)) * lane_abs<W>(along);
    }
    last -= kRoundingOfSum * size;
    const M worse = p_.hydrogen_open ? error > before : last > kDescentEnough * lane_abs<W>(first);
    const M too_long = trying & worse & ~settled;
    const M there = (error < all(kGuessDone)) & ~too_long & ~settled;
    if (lane_any<W>(there)) {
      const M enter = there & ~second;
      settled |= there & second;
      if (lane_any<W>(enter)) take_activity(enter);
      second |= enter;
      trying &= ~enter;
    }
    settled |= ~sound;
    if (!lane_any<W>(~settled)) break;
    const M fresh = ~too_long & ~there & ~settled;
    if (lane_any<W>(fresh)) {
      for (std::size_t f = 0; f < width; ++f) put(from_, f, fresh ? at(lambda_, f) : at(from_, f));
      before = fresh ? error : before;
      new_direction(fresh, sound, first);
      step = fresh ? all(1) : step;
      trying |= fresh;
    }
    V shorter = p_.hydrogen_open ? all(kShorter) : first / (first - last);
    shorter = lane_min<W>(lane_max<W>(shorter, all(0.1)), all(0.5));
    step = too_long ? step * shorter : step;
    const M moving = fresh | too_long;
    for (std::size_t f = 0; f < width; ++f)
      put(lambda_, f, moving ? at(from_, f) + step * at(direction_, f) : at(lambda_, f));
  }
  alive_ = sound & settled;
}

// Kept apart by lane: those on trial keep their direction.
template <int W>
void LaneSolver<W>::new_direction(M fresh, M& sound, V& first) {
  const std::size_t width = p_.free;
  V kept[kMostFree];  // NOLINT(modernize-avoid-c-arrays)
  for (std::size_t f = 0; f < width; ++f) kept[f] = at(direction_, f);
  M good = ~M{};
  logarithmic_direction(good);
  V slope = all(0);
  V noise = all(0);
  for (std::size_t f = 0; f < width; ++f) {
    const V d = at(direction_, f);
    good &= lane_finite<W>(d);
    slope += (at(positive_, f) - at(negative_, f)) * d;
    noise += (at(positive_, f) + at(negative_, f)) * lane_abs<W>(d);
  }
  if (!p_.hydrogen_open) good &= slope < kRoundingOfSum * noise;
  sound &= good | ~fresh;
  first = fresh ? slope : first;
  for (std::size_t f = 0; f < width; ++f) put(direction_, f, fresh ? at(direction_, f) : kept[f]);
}

template <int W>
void LaneSolver<W>::take_activity(M enter) {
  const Model model = activity(lack_);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V g = lane_min<W>(lane_max<W>(at(lack_, i), all(-kFirstLnGamma)), all(kFirstLnGamma));
    put(ln_gamma_, i, enter ? g : at(ln_gamma_, i));
  }
  const V water = lane_min<W>(lane_max<W>(model.ln_water, all(-1)), all(0));
  ln_water_ = enter ? water : ln_water_;
}

}  // namespace
}  // namespace aeruca::detail
