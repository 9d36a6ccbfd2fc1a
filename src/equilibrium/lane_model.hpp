#pragma once

// The pieces the stages share: molalities, balances, the activity model, elimination.

#include "equilibrium/lane_solver.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

template <int W>
auto LaneSolver<W>::linear(std::size_t i) const -> V {
  V sum = at(base_, i) + p_.reduced_water[i] * ln_water_;
  for (std::size_t f = 0; f < p_.free; ++f) {
    const double r = p_.reduced[i * p_.free + f];
    if (r != 0) sum += r * at(lambda_, f);
  }
  return sum;
}

template <int W>
void LaneSolver<W>::species_from_potentials() {
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V u = linear(i) - at(ln_gamma_, i);
    put(u_, i, u);
    put(m_, i, lane_exp<W>(lane_min<W>(u, all(230))));
  }
}

template <int W>
void LaneSolver<W>::molalities() {
  for (std::size_t i = 0; i < p_.species; ++i)
    put(m_, i, lane_exp<W>(lane_min<W>(at(u_, i), all(100))));
}

// P, N and ln(P / N) of every free balance; the largest of these.
template <int W>
auto LaneSolver<W>::balances() -> V {
  V largest = all(0);
  for (std::size_t f = 0; f < p_.free; ++f) {
    const V total = at(total_, f);
    V positive = lane_max<W>(-total, all(0));
    V negative = lane_max<W>(total, all(0));
    for (std::size_t i = 0; i < p_.species; ++i) {
      const double r = share(i, f);
      if (r > 0) positive += r * at(m_, i);
      if (r < 0) negative -= r * at(m_, i);
    }
    if (f == p_.hydrogen && lane_any<W>(by_charge_)) charge_instead(positive, negative);
    positive = lane_max<W>(positive, all(kTinyPart));
    negative = lane_max<W>(negative, all(kTinyPart));
    const V lack = lane_log<W>(positive / negative);
    put(positive_, f, positive);
    put(negative_, f, negative);
    put(residual_, f, lack);
    largest = lane_max<W>(largest, lane_abs<W>(lack));
  }
  return largest;
}

template <int W>
auto LaneSolver<W>::activity(double* ln_gamma) -> Model {
  Model model{};
  if (p_.pitzer.species > 0) {
    pitzer_.values(m_, ln_gamma);
    return {pitzer_.strength, all(0), pitzer_.ln_water, pitzer_.dissolved};
  }
  V twice = all(0);
  V sum = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V m = at(m_, i);
    twice += (p_.charge[i] * p_.charge[i]) * m;
    sum += m;
    put(pair_sum_, i, all(0));
  }
  model.strength = 0.5 * twice;
  model.sum = sum;
  if (p_.law_a == 0) {  // ideal
    for (std::size_t i = 0; i < p_.species; ++i) put(ln_gamma, i, all(0));
    model.slope = all(0);
    model.ln_water = -kWaterMolarMass * sum;
    return model;
  }
  const V root = lane_max<W>(lane_sqrt<W>(model.strength), all(1e-12));
  const V below = 1.0 + p_.law_b * root;
  const V d = p_.law_a * (root / below - p_.law_c * model.strength);
  model.slope = p_.law_a * (0.5 / (root * below * below) - p_.law_c);
  const V f =
      p_.law_a * ((4.0 / (p_.law_b * p_.law_b * p_.law_b)) * log_remainder(p_.law_b * root) -
                  p_.law_c * model.strength * model.strength);
  for (std::size_t c = 0; c < p_.cation_count; ++c) {
    const std::size_t i = p_.cations[c];
    const V mc = at(m_, i);
    V mine = all(0);
    for (std::size_t a = 0; a < p_.anion_count; ++a) {
      const std::size_t j = p_.anions[a];
      const double epsilon = p_.interaction[c * p_.anion_count + a];
      mine += epsilon * at(m_, j);
      put(pair_sum_, j, at(pair_sum_, j) + epsilon * mc);
    }
    put(pair_sum_, i, mine);
  }
  V excess = all(0);
  V pairs = all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V g = at(pair_sum_, i) - (p_.charge[i] * p_.charge[i]) * d;
    put(ln_gamma, i, g);
    excess += at(m_, i) * g;
    pairs += at(m_, i) * at(pair_sum_, i);
  }
  model.ln_water = -kWaterMolarMass * (sum + excess - (0.5 * pairs - f));
  return model;
}

// ln(1 + y) - y + y^2 / 2, without cancellation near zero.
template <int W>
auto LaneSolver<W>::log_remainder(V y) -> V {
  V series = all(1.0 / 14);
  for (int n = 13; n >= 3; --n) series = 1.0 / n - y * series;
  const V near = y * y * y * series;
  return y > all(0.05) ? lane_log<W>(1.0 + y) - y + 0.5 * y * y : near;
}

// Gauss elimination without exchange of rows: the matrices are, by row, multiples of ones that are
// positive definite over neutral changes, so that a pivot may be negative where charge comes up, but
// hardly naught. `sound` loses the lanes with a pivot that is none.
template <int W>
void LaneSolver<W>::eliminate(double* matrix, std::size_t n, double* right, std::size_t rights,
                              M& sound) {
  for (std::size_t k = 0; k < n; ++k) {
    const V pivot = at(matrix, k * n + k);
    const M good = lane_finite<W>(pivot) & (lane_abs<W>(pivot) > all(kTinyPart));
    sound &= good;
    const V inverse = 1.0 / (good ? pivot : all(1));
    for (std::size_t i = k + 1; i < n; ++i) {
      const V factor = at(matrix, i * n + k) * inverse;
      for (std::size_t j = k + 1; j < n; ++j)
        put(matrix, i * n + j, at(matrix, i * n + j) - factor * at(matrix, k * n + j));
      for (std::size_t c = 0; c < rights; ++c)
        put(right, i * rights + c, at(right, i * rights + c) - factor * at(right, k * rights + c));
    }
  }
  for (std::size_t k = n; k-- > 0;) {
    const V pivot = at(matrix, k * n + k);
    const V inverse = 1.0 / (lane_abs<W>(pivot) > all(kTinyPart) ? pivot : all(1));
    for (std::size_t c = 0; c < rights; ++c) {
      V sum = at(right, k * rights + c);
      for (std::size_t j = k + 1; j < n; ++j)
        sum -= at(matrix, k * n + j) * at(right, j * rights + c);
      put(right, k * rights + c, sum * inverse);
    }
  }
}

// All potentials, from the free ones and what is tied.
template <int W>
void LaneSolver<W>::complete(V ln_water) {
  for (std::size_t f = 0; f < p_.free; ++f) put(all_lambda_, p_.free_column[f], at(lambda_, f));
  for (std::size_t k = 0; k < p_.tied; ++k) {
    V sum = p_.tie_water[k] * ln_water;
    for (std::size_t r = 0; r < p_.tied; ++r) sum += p_.tie_pin[k * p_.tied + r] * at(w_.tied, r);
    for (std::size_t f = 0; f < p_.free; ++f) sum += p_.tie_row[k * p_.free + f] * at(lambda_, f);
    put(all_lambda_, p_.tied_column[k], -sum);
  }
}

template <int W>
auto LaneSolver<W>::expression(const double* row, double constant, double water, V ln_water) const
    -> V {
  V sum = constant + water * ln_water;
  for (std::size_t j = 0; j < p_.columns; ++j) {
    if (row[j] != 0) sum += row[j] * at(all_lambda_, j);
  }
  return sum;
}

}  // namespace
}  // namespace aeruca::detail
