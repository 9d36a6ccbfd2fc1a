#pragma once

// The pH from the charge, in lanes (water_state.cpp, solve.cpp). The balance of hydrogen is then
// written as that of charge less what the other balances hold of it. Where electrons come and go
// it is no longer the slope of the convex objective, so that steps are judged by what the balances
// lack; and charge that does not rise with acidity where the water is neutral is a sign of several
// answers, left to be solved alone. The full stage takes, by lane, this balance or that of charge,
// whichever loses less to rounding.

#include "equilibrium/lane_solver.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

// Of species i in balance f.
template <int W>
double LaneSolver<W>::share(std::size_t i, std::size_t f) const {
  return f == p_.hydrogen ? p_.acid[i] : p_.reduced[i * p_.free + f];
}

template <int W>
bool LaneSolver<W>::takes_part(std::size_t i, std::size_t f) const {
  return share(i, f) != 0 || (f == p_.hydrogen && p_.charge[i] != 0);
}

// P and N of charge, where it stands for the balance of hydrogen.
template <int W>
void LaneSolver<W>::charge_instead(V& positive, V& negative) const {
  V above = all(0);
  V below = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double z = p_.charge[i];
    if (z > 0) above += z * at(m_, i);
    if (z < 0) below -= z * at(m_, i);
  }
  positive = by_charge_ ? above : positive;
  negative = by_charge_ ? below : negative;
}

// What a species weighs in the logarithm of a balance with 1 / P and 1 / N.
template <int W>
auto LaneSolver<W>::weight(std::size_t i, std::size_t f, V up, V down) const -> V {
  const double r = share(i, f);
  const V own = (r * at(m_, i)) * (r > 0 ? up : down);
  if (f != p_.hydrogen) return own;
  const double z = p_.charge[i];
  return by_charge_ ? (z * at(m_, i)) * (z > 0 ? up : down) : own;
}

// Near the pH of a neutral water, by false position: the others are swept at each trial.
template <int W>
void LaneSolver<W>::find_ph() {
  const std::size_t h = p_.hydrogen;
  V low = all(kMostBasic);
  V high = all(kMostAcid);
  V at_low = all(-kBeyondAnyPh);
  V at_high = all(kBeyondAnyPh);
  for (int turn = 0; turn < kPhTurns; ++turn) {
    for (int round = 0; round < kSweepsOfTurn; ++round) sweep(h);
    const V value = lack_of_hydrogen();
    const V here = at(lambda_, h);
    const M basic = value < all(0);
    low = basic ? here : low;
    high = basic ? high : here;
    at_low = basic ? value : at_low;
    at_high = basic ? at_high : value;
    const V guard = kPhGuard * (high - low);
    V next = low - at_low * (high - low) / (at_high - at_low);
    next = lane_max<W>(lane_min<W>(next, high - guard), low + guard);
    if (turn % 3 == 2) next = 0.5 * (low + high);
    move(h, next - here);
  }
}

// ln(P / N) of its balance.
template <int W>
auto LaneSolver<W>::lack_of_hydrogen() const -> V {
  const V total = at(total_, p_.hydrogen);
  V positive = lane_max<W>(-total, all(kTinyPart));
  V negative = lane_max<W>(total, all(kTinyPart));
  for (std::size_t i = 0; i < p_.species; ++i) {
    const double c = p_.acid[i];
    if (c > 0) positive += c * at(m_, i);
    if (c < 0) negative -= c * at(m_, i);
  }
  return lane_log<W>(positive / negative);
}

// The balance with the smaller terms.
template <int W>
void LaneSolver<W>::choose_balance() {
  if (p_.hydrogen == kNone) return;
  V hydrogen = lane_abs<W>(at(total_, p_.hydrogen));
  V charge = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    hydrogen += __builtin_fabs(p_.acid[i]) * at(m_, i);
    charge += __builtin_fabs(p_.charge[i]) * at(m_, i);
  }
  by_charge_ = charge < hydrogen;
}

template <int W>
auto LaneSolver<W>::neutral() const -> M {
  if (p_.unbalanced == kNone) return ~M{};
  V net = all(0);
  V absolute = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V part = p_.charge[i] * at(m_, i);
    net += part;
    absolute += lane_abs<W>(part);
  }
  return rises_ & (lane_abs<W>(net) <= kCertain * absolute);
}

}  // namespace
}  // namespace aeruca::detail
