#include "activity/pitzer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "activity/excess.hpp"
#include "activity/unsymmetric.hpp"

namespace aeruca::detail {
namespace {

constexpr double kB = 1.2;  // kg^0.5 mol^-0.5, Pitzer 1973
constexpr int kHighestProduct = 64;

// g(x) = 2 [1 - (1 + x) e^-x] / x^2 with x = alpha sqrt I, and its derivatives by I.
struct ExponentialTerm {
  double g = 0, slope = 0, curvature = 0;
};

ExponentialTerm exponential_term(double alpha, double root) {
  const double x = alpha * root;
  const double square = alpha * alpha;
  if (x < 0.5) {  // g = sum_n (-x)^n 2 (n + 1) / (n + 2)!, term by term; dx/dI = square / (2 x)
    double g = 0;
    double first = 0;
    double second = 0;
    double power = 1;
    double factorial = 2;
    for (int n = 0; n < 15; ++n) {
      const double term = (n % 2 == 0 ? 2.0 : -2.0) * (n + 1) / factorial * power;
      g += term;
      first += 0.5 * n * term;
      second += 0.25 * n * (n - 2) * term;
      power *= x;
      factorial *= n + 3;
    }
    const double per_i = square / (x * x);
    return {g, first * per_i, second * per_i * per_i};
  }
  const double e = std::exp(-x);
  const double g = 2.0 * (1.0 - (1.0 + x) * e) / (x * x);
  const double k = (e - g) / (x * x);
  const double g_by_x = 2.0 * (e - g) / x;
  const double k_by_x = (-e - g_by_x) / (x * x) - 2.0 * k / x;
  return {g, square * k, 0.5 * square * square * k_by_x / x};
}

}  // namespace

// Running sums of G and its derivatives: direct ones, and those through I and Z, folded in at the
// end.
struct Pitzer::Sums {
  std::span<const double> m;
  double ionic_strength, root;
  double* g_by_m;   // (n) direct
  double* g_by_mm;  // (n, n) direct; null: values alone are wanted
  double* g_by_mi;  // (n) mixed with I
  double* k_by_m;   // (n) of K = sum m m C
  double g = 0, g_by_i = 0, g_by_ii = 0, k = 0;

  void add_pair(std::size_t i, std::size_t j, double value) {
    const std::size_t n = m.size();
    g += value * m[i] * m[j];
    g_by_m[i] += value * m[j];
    g_by_m[j] += value * m[i];
    if (g_by_mm == nullptr) return;
    g_by_mm[i * n + j] += value;
    g_by_mm[j * n + i] += value;
  }
  // Of two that are not there nothing but the second derivative is left.
  [[nodiscard]] bool idle(std::size_t i, std::size_t j) const {
    return g_by_mm == nullptr && m[i] == 0 && m[j] == 0;
  }
  // value, slope and curvature by I of the coefficient of m_i m_j
  void add_pair(std::size_t i, std::size_t j, double value, double slope, double curvature) {
    add_pair(i, j, value);
    g_by_mi[i] += slope * m[j];
    g_by_mi[j] += slope * m[i];
    g_by_i += slope * m[i] * m[j];
    g_by_ii += curvature * m[i] * m[j];
  }
};

Pitzer::Pitzer(PitzerSystem system) : system_(std::move(system)) {
  const auto& z = system_.charge;
  for (const double charge : z) magnitude_.push_back(std::abs(charge));
  for (std::size_t i = 0; i < z.size(); ++i) {
    for (std::size_t j = i + 1; j < z.size(); ++j) {
      if (z[i] * z[j] <= 0 || z[i] == z[j]) continue;
      const Unequal pair{i, j, static_cast<int>(z[i] * z[j]), static_cast<int>(z[i] * z[i]),
                         static_cast<int>(z[j] * z[j])};
      unequal_.push_back(pair);
      for (const int product : {pair.product, pair.square_i, pair.square_j})
        products_.push_back(product);
    }
  }
  std::sort(products_.begin(), products_.end());
  products_.erase(std::unique(products_.begin(), products_.end()), products_.end());
  for (const int product : products_) ln_products_.push_back(std::log(product));
  const auto place_of = [this](double alpha) {
    const auto found = std::find(alphas_.begin(), alphas_.end(), alpha);
    if (found != alphas_.end()) return static_cast<std::size_t>(found - alphas_.begin());
    alphas_.push_back(alpha);
    return alphas_.size() - 1;
  };
  for (const auto& p : system_.pairs)
    alphas_of_.push_back({place_of(p.alpha1), p.beta2 == 0 ? 0 : place_of(p.alpha2)});
}

// f(I) = -(4 A_phi I / b) ln(1 + b sqrt I), HMW eq 2
void Pitzer::add_limiting_law(Sums& sums) const {
  const double root = sums.root;
  const double logarithm = std::log1p(kB * root);
  const double fraction = root / (1.0 + kB * root);
  const double a = system_.a_phi;
  sums.g -= 4.0 * a / kB * sums.ionic_strength * logarithm;
  sums.g_by_i -= 4.0 * a / kB * logarithm + 2.0 * a * fraction;
  sums.g_by_ii -=
      2.0 * a / (root * (1.0 + kB * root)) + a * fraction * fraction / (root * root * root);
}

void Pitzer::add_pairs(Sums& sums) const {
  const std::size_t n = sums.m.size();
  thread_local std::vector<ExponentialTerm> terms;
  terms.clear();
  for (const double alpha : alphas_) terms.push_back(exponential_term(alpha, sums.root));
  for (std::size_t k = 0; k < system_.pairs.size(); ++k) {
    const PitzerPair& p = system_.pairs[k];
    if (sums.idle(p.cation, p.anion)) continue;
    const ExponentialTerm& one = terms[alphas_of_[k].first];
    double value = p.beta0 + p.beta1 * one.g;
    double slope = p.beta1 * one.slope;
    double curvature = p.beta1 * one.curvature;
    if (p.beta2 != 0) {
      const ExponentialTerm& two = terms[alphas_of_[k].second];
      value += p.beta2 * two.g;
      slope += p.beta2 * two.slope;
      curvature += p.beta2 * two.curvature;
    }
    sums.add_pair(p.cation, p.anion, 2.0 * value, 2.0 * slope, 2.0 * curvature);
    sums.k += p.c * sums.m[p.cation] * sums.m[p.anion];
    sums.k_by_m[p.cation] += p.c * sums.m[p.anion];
    sums.k_by_m[p.anion] += p.c * sums.m[p.cation];
  }
  double z = 0;
  for (std::size_t i = 0; i < n; ++i) z += magnitude_[i] * sums.m[i];
  sums.g += z * sums.k;
  for (std::size_t i = 0; i < n; ++i) {
    sums.g_by_m[i] += z * sums.k_by_m[i] + magnitude_[i] * sums.k;
    if (sums.g_by_mm == nullptr) continue;
    for (std::size_t j = 0; j < n; ++j) {
      sums.g_by_mm[i * n + j] += magnitude_[i] * sums.k_by_m[j] + sums.k_by_m[i] * magnitude_[j];
    }
  }
  if (sums.g_by_mm == nullptr) return;
  for (const auto& p : system_.pairs) {
    sums.g_by_mm[p.cation * n + p.anion] += z * p.c;
    sums.g_by_mm[p.anion * n + p.cation] += z * p.c;
  }
}

// E-theta = z_i z_j / (4 I) [J(x_ij) - J(x_ii)/2 - J(x_jj)/2], x = 6 z z A_phi sqrt I; with J = x^2
// h the ionic strength cancels and the limit of dilution is regular.
void Pitzer::add_unsymmetric(Sums& sums) const {
  if (unequal_.empty()) return;
  std::array<UnsymmetricJ, kHighestProduct + 1> table;
  const double base = std::log(6.0 * system_.a_phi * sums.root);
  for (std::size_t k = 0; k < products_.size(); ++k) {
    table[static_cast<std::size_t>(products_[k])] = unsymmetric_j(base + ln_products_[k]);
  }
  const double scale = 9.0 * system_.a_phi * system_.a_phi;
  const double ionic = sums.root * sums.root;
  for (const auto& pair : unequal_) {
    if (sums.idle(pair.i, pair.j)) continue;
    double h = 0;
    double slope = 0;
    double curvature = 0;
    const auto take = [&](int product, double weight) {
      const auto& j = table[static_cast<std::size_t>(product)];
      const double factor = weight * scale * pair.product * product * product;
      h += factor * j.h;
      slope += factor * j.slope;
      curvature += factor * j.curvature;
    };
    take(pair.product, 1.0);
    take(pair.square_i, -0.5);
    take(pair.square_j, -0.5);
    // s = ln x has ds/dI = 1 / (2 I)
    sums.add_pair(pair.i, pair.j, 2.0 * h, slope / ionic,
                  (0.5 * curvature - slope) / (ionic * ionic));
  }
}

void Pitzer::add_constant_terms(Sums& sums) const {
  const std::size_t n = sums.m.size();
  const auto& m = sums.m;
  for (const auto& two : system_.twos) sums.add_pair(two.i, two.j, two.value);
  for (const auto& [i, j, k, value] : system_.threes) {
    sums.g += value * m[i] * m[j] * m[k];
    const std::array<std::array<std::size_t, 3>, 3> turns = {{{i, j, k}, {j, k, i}, {k, i, j}}};
    for (const auto& [a, b, c] : turns) {
      sums.g_by_m[a] += value * m[b] * m[c];
      if (sums.g_by_mm == nullptr) continue;
      sums.g_by_mm[a * n + b] += value * m[c];
      sums.g_by_mm[b * n + a] += value * m[c];
    }
  }
}

void Pitzer::evaluate(std::span<const double> molality, ActivityValues& out) const {
  sum_up(molality, Wanted::slopes, out);
}

void Pitzer::evaluate_values(std::span<const double> molality, ActivityValues& out) const {
  sum_up(molality, Wanted::values, out);
}

void Pitzer::sum_up(std::span<const double> molality, Wanted wanted, ActivityValues& out) const {
  begin(molality, system_.charge, out);
  const std::size_t n = molality.size();
  const bool slopes = wanted == Wanted::slopes;
  thread_local std::vector<double> scratch;
  scratch.assign(2 * n, 0.0);
  std::fill(out.ln_gamma.begin(), out.ln_gamma.end(), 0.0);
  if (slopes) std::fill(out.ln_gamma_by_molality.begin(), out.ln_gamma_by_molality.end(), 0.0);
  Sums sums{molality,
            out.ionic_strength,
            root_of(out.ionic_strength),
            out.ln_gamma.data(),
            slopes ? out.ln_gamma_by_molality.data() : nullptr,
            scratch.data(),
            scratch.data() + n};
  add_limiting_law(sums);
  add_pairs(sums);
  add_unsymmetric(sums);
  add_constant_terms(sums);
  // dI/dm_i = z_i^2 / 2
  for (std::size_t i = 0; i < n; ++i)
    out.ln_gamma[i] += 0.5 * system_.charge[i] * system_.charge[i] * sums.g_by_i;
  if (!slopes) {
    out.ln_water_activity = ln_water_activity(molality, sums.g, out.ln_gamma);
    return;
  }
  for (std::size_t i = 0; i < n; ++i) {
    const double by_i = 0.5 * system_.charge[i] * system_.charge[i];
    double* row = out.ln_gamma_by_molality.data() + i * n;
    for (std::size_t j = 0; j < n; ++j) {
      const double by_j = 0.5 * system_.charge[j] * system_.charge[j];
      row[j] += sums.g_by_mi[i] * by_j + by_i * sums.g_by_mi[j] + sums.g_by_ii * by_i * by_j;
    }
  }
  finish_water(molality, sums.g, out);
}

}  // namespace aeruca::detail
