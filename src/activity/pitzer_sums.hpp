#pragma once

// Pitzer's excess function and its first and second derivatives (pitzer.hpp), written once for one
// number and for several side by side: `A` is Scalar (numerics/scalar.hpp) or SideBySide<W>
// (numerics/lanes.hpp).

#include "activity/pitzer_view.hpp"
#include "activity/unsymmetric_series.hpp"
#include "aeruca/constants.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces): see numerics/lanes.hpp

// NOLINTBEGIN(misc-definitions-in-headers): internal to each kernel
constexpr double kPitzerB = 1.2;      // kg^0.5 mol^-0.5, Pitzer 1973
constexpr double kLeastRoot = 1e-12;  // of the ionic strength: the slope is infinite at 0
constexpr std::size_t kNoColumn = ~std::size_t{0};
// NOLINTEND(misc-definitions-in-headers)

template <class A>
class PitzerSums {
  using V = typename A::Real;

 public:
  /// Doubles of room, times the width.
  static std::size_t room(const PitzerView& p) {
    return 3 * p.alphas + 3 * p.products + 2 * p.species;
  }
  PitzerSums(const PitzerView& view, double* room)
      : p_(view),
        alpha_(room),
        product_(alpha_ + 3 * p_.alphas * A::kWidth),
        k_by_m_(product_ + 3 * p_.products * A::kWidth),
        by_mi_(k_by_m_ + p_.species * A::kWidth) {}

  /// ln gamma of every species; keeps what `slopes` needs.
  void values(const double* m, double* ln_gamma);
  /// d ln gamma_i / d m_j, (species, columns), for the species j with a place below kNoColumn.
  void slopes(const double* m, const std::size_t* place, std::size_t columns, double* slope);

  [[nodiscard]] V g() const { return g_; }
  V strength = A::all(0), dissolved = strength,
    ln_water = strength;  ///< I, sum of m, ln a(w): of `values`

 private:
  struct Coefficient {  // of m_i m_j, and its derivatives by I
    V value, slope, curvature;
  };
  void find_terms();
  void put_term(std::size_t a);
  static void series_term(V x, V& g, V& first, V& second);
  Coefficient of(const PitzerPair& pair) const;
  Coefficient of(const PitzerUnequal& pair) const;
  void add_pair(const double* m, double* g_by_m, std::size_t i, std::size_t j, V value);

  const PitzerView& p_;
  double *alpha_, *product_;  // g, slope, curvature of each alpha; h and its derivatives
  double *k_by_m_, *by_mi_;   // of K = sum m m C; of what multiplies m, by I
  V root_ = A::all(0), z_ = root_, g_ = root_, g_by_i_ = root_;
};

// g(x) = sum_n (-x)^n 2 (n + 1) / (n + 2)!, and n / 2, n (n - 2) / 4 times its terms: derivatives by
// ln I.
template <class A>
void PitzerSums<A>::series_term(V x, V& g, V& first, V& second) {
  g = first = second = A::all(0);
  V power = A::all(1);
  double factorial = 2;
  for (int n = 0; n < 15; ++n) {
    const V term = ((n % 2 == 0 ? 2.0 : -2.0) * (n + 1) / factorial) * power;
    g += term;
    first += (0.5 * n) * term;
    second += (0.25 * n * (n - 2)) * term;
    power = power * x;
    factorial *= n + 3;
  }
}

// g(x) = 2 [1 - (1 + x) e^-x] / x^2 with x = alpha sqrt I, and its derivatives by I.
template <class A>
void PitzerSums<A>::put_term(std::size_t a) {
  const double alpha = p_.alpha[a];
  const double square = alpha * alpha;
  const V x = alpha * root_;
  const V inverse = 1.0 / (x * x);
  const V per_i = square * inverse;
  V g = A::all(0);
  V slope = g;
  V curvature = g;
  const auto small = x < A::all(0.5);
  if (!A::every(small)) {
    const V e = A::exp(-x);
    g = 2.0 * (1.0 - (1.0 + x) * e) * inverse;
    const V k = (e - g) * inverse;
    const V k_by_x = (-e - 2.0 * (e - g) / x) * inverse - 2.0 * k / x;
    slope = square * k;
    curvature = (0.5 * square * square) * k_by_x / x;
  }
  if (A::any(small)) {
    V near = g;
    V first = g;
    V second = g;
    series_term(x, near, first, second);
    g = A::choose(small, near, g);
    slope = A::choose(small, first * per_i, slope);
    curvature = A::choose(small, second * per_i * per_i, curvature);
  }
  A::put(alpha_, 3 * a, g);
  A::put(alpha_, 3 * a + 1, slope);
  A::put(alpha_, 3 * a + 2, curvature);
}

template <class A>
void PitzerSums<A>::find_terms() {
  for (std::size_t a = 0; a < p_.alphas; ++a) put_term(a);
  if (p_.products == 0) return;
  const V base = A::log(6.0 * p_.a_phi * root_);
  for (std::size_t k = 0; k < p_.products; ++k) {
    const auto j = j_series<A>(p_.table, base + p_.ln_product[k]);
    A::put(product_, 3 * k, j.h);
    A::put(product_, 3 * k + 1, j.slope);
    A::put(product_, 3 * k + 2, j.curvature);
  }
}

// 2 B_ca
template <class A>
auto PitzerSums<A>::of(const PitzerPair& pair) const -> Coefficient {
  const auto term = [&](std::size_t k) {
    V part = pair.beta1 * A::at(alpha_, 3 * pair.term1 + k);
    if (pair.beta2 != 0) part += pair.beta2 * A::at(alpha_, 3 * pair.term2 + k);
    return 2.0 * part;
  };
  return {2.0 * pair.beta0 + term(0), term(1), term(2)};
}

// 2 E-theta = z_i z_j / (2 I) [J(x_ij) - J(x_ii)/2 - J(x_jj)/2], x = 6 z z A_phi sqrt I; with J = x^2
// h the ionic strength cancels and the limit of dilution is regular. ds/dI = 1 / (2 I).
template <class A>
auto PitzerSums<A>::of(const PitzerUnequal& pair) const -> Coefficient {
  const auto term = [&](std::size_t k) {
    V total = A::all(0);
    for (std::size_t n = 0; n < 3; ++n)
      total += pair.factor[n] * A::at(product_, 3 * pair.product[n] + k);
    return total;
  };
  const V slope = 0.5 * term(1);
  const V per_i = 1.0 / (root_ * root_);
  return {term(0), slope * per_i, (0.25 * term(2) - slope) * per_i * per_i};
}

template <class A>
void PitzerSums<A>::add_pair(const double* m, double* g_by_m, std::size_t i, std::size_t j,
                             V value) {
  const V mi = A::at(m, i);
  const V mj = A::at(m, j);
  g_ += value * mi * mj;
  A::put(g_by_m, i, A::at(g_by_m, i) + value * mj);
  A::put(g_by_m, j, A::at(g_by_m, j) + value * mi);
}

template <class A>
void PitzerSums<A>::values(const double* m, double* ln_gamma) {
  strength = dissolved = z_ = A::all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {
    const V mi = A::at(m, i);
    dissolved += mi;
    strength += p_.half_square[i] * mi;
    z_ += p_.magnitude[i] * mi;
    A::put(ln_gamma, i, A::all(0));
    A::put(k_by_m_, i, A::all(0));
  }
  root_ = A::higher(A::root(strength), A::all(kLeastRoot));
  find_terms();
  // f(I) = -(4 A_phi I / b) ln(1 + b sqrt I), HMW eq 2
  const V logarithm = A::log_1_plus(kPitzerB * root_);
  g_ = (-4.0 * p_.a_phi / kPitzerB) * strength * logarithm;
  g_by_i_ =
      (-4.0 * p_.a_phi / kPitzerB) * logarithm - 2.0 * p_.a_phi * root_ / (1.0 + kPitzerB * root_);
  V k = A::all(0);
  for (std::size_t q = 0; q < p_.pairs; ++q) {
    const PitzerPair& pair = p_.pair[q];
    const Coefficient b = of(pair);
    add_pair(m, ln_gamma, pair.cation, pair.anion, b.value);
    const V mc = A::at(m, pair.cation);
    const V ma = A::at(m, pair.anion);
    g_by_i_ += b.slope * mc * ma;
    k += pair.c * mc * ma;
    A::put(k_by_m_, pair.cation, A::at(k_by_m_, pair.cation) + pair.c * ma);
    A::put(k_by_m_, pair.anion, A::at(k_by_m_, pair.anion) + pair.c * mc);
  }
  g_ += z_ * k;
  for (std::size_t q = 0; q < p_.unequals; ++q) {
    const PitzerUnequal& pair = p_.unequal[q];
    const Coefficient theta = of(pair);
    add_pair(m, ln_gamma, pair.i, pair.j, theta.value);
    g_by_i_ += theta.slope * A::at(m, pair.i) * A::at(m, pair.j);
  }
  for (std::size_t q = 0; q < p_.twos; ++q)
    add_pair(m, ln_gamma, p_.two[q].i, p_.two[q].j, A::all(p_.two[q].value));
  for (std::size_t q = 0; q < p_.threes; ++q) {
    const PitzerThree& t = p_.three[q];
    const V mi = t.value * A::at(m, t.i);
    const V mj = A::at(m, t.j);
    const V mk = A::at(m, t.k);
    g_ += mi * mj * mk;
    A::put(ln_gamma, t.i, A::at(ln_gamma, t.i) + t.value * mj * mk);
    A::put(ln_gamma, t.j, A::at(ln_gamma, t.j) + mi * mk);
    A::put(ln_gamma, t.k, A::at(ln_gamma, t.k) + mi * mj);
  }
  V excess = A::all(0);
  for (std::size_t i = 0; i < p_.species; ++i) {  // dI/dm_i = z_i^2 / 2
    const V value = A::at(ln_gamma, i) + z_ * A::at(k_by_m_, i) + p_.magnitude[i] * k +
                    p_.half_square[i] * g_by_i_;
    A::put(ln_gamma, i, value);
    excess += A::at(m, i) * value;
  }
  ln_water = -kWaterMolarMass * (dissolved + excess - g_);
}

template <class A>
void PitzerSums<A>::slopes(const double* m, const std::size_t* place, std::size_t columns,
                           double* slope) {
  const auto add = [&](std::size_t i, std::size_t j, V value) {
    if (place[j] == kNoColumn) return;
    const std::size_t at = i * columns + place[j];
    A::put(slope, at, A::at(slope, at) + value);
  };
  const auto both = [&](std::size_t i, std::size_t j, V value) {
    add(i, j, value);
    add(j, i, value);
  };
  for (std::size_t i = 0; i < p_.species; ++i) {
    A::put(by_mi_, i, A::all(0));
    for (std::size_t b = 0; b < columns; ++b) A::put(slope, i * columns + b, A::all(0));
  }
  const V below = 1.0 + kPitzerB * root_;
  const V fraction = root_ / below;
  V g_by_ii =
      -2.0 * p_.a_phi / (root_ * below) - p_.a_phi * fraction * fraction / (root_ * root_ * root_);
  const auto by_strength = [&](std::size_t i, std::size_t j, const Coefficient& c) {
    const V mi = A::at(m, i);
    const V mj = A::at(m, j);
    A::put(by_mi_, i, A::at(by_mi_, i) + c.slope * mj);
    A::put(by_mi_, j, A::at(by_mi_, j) + c.slope * mi);
    g_by_ii += c.curvature * mi * mj;
  };
  for (std::size_t q = 0; q < p_.pairs; ++q) {
    const PitzerPair& pair = p_.pair[q];
    const Coefficient b = of(pair);
    by_strength(pair.cation, pair.anion, b);
    both(pair.cation, pair.anion, b.value + pair.c * z_);
  }
  for (std::size_t q = 0; q < p_.unequals; ++q) {
    const PitzerUnequal& pair = p_.unequal[q];
    const Coefficient theta = of(pair);
    by_strength(pair.i, pair.j, theta);
    both(pair.i, pair.j, theta.value);
  }
  for (std::size_t q = 0; q < p_.twos; ++q) both(p_.two[q].i, p_.two[q].j, A::all(p_.two[q].value));
  for (std::size_t q = 0; q < p_.threes; ++q) {
    const PitzerThree& t = p_.three[q];
    both(t.i, t.j, t.value * A::at(m, t.k));
    both(t.j, t.k, t.value * A::at(m, t.i));
    both(t.k, t.i, t.value * A::at(m, t.j));
  }
  for (std::size_t j = 0; j < p_.species; ++j) {
    if (place[j] == kNoColumn || p_.magnitude[j] == 0) continue;
    const double half = p_.half_square[j];
    const double size = p_.magnitude[j];
    const V mixed = A::at(by_mi_, j) + half * g_by_ii;
    const V k = A::at(k_by_m_, j);
    for (std::size_t i = 0; i < p_.species; ++i) {
      if (p_.magnitude[i] == 0) continue;
      const std::size_t at = i * columns + place[j];
      A::put(slope, at,
             A::at(slope, at) + half * A::at(by_mi_, i) + p_.half_square[i] * mixed +
                 p_.magnitude[i] * k + size * A::at(k_by_m_, i));
    }
  }
}

}  // namespace
}  // namespace aeruca::detail
