#pragma once

// The parameters of Pitzer's equations as plain arrays, for one number or several side by side; no
// class of the standard library (equilibrium/lane_kernel.hpp says why).

#include <cstddef>

namespace aeruca::detail {

struct PitzerPair {
  std::size_t cation = 0, anion = 0;
  double beta0 = 0, beta1 = 0, beta2 = 0;
  double c = 0;  // C = C_phi / (2 sqrt |z_c z_a|)
  double alpha1 = 2, alpha2 = 12;
  std::size_t term1 = 0, term2 = 0;  ///< of alpha1, alpha2 among PitzerView::alpha
};
struct PitzerTwo {  // coefficient of m_i m_j in G: 2 theta, 2 lambda; lambda of a neutral with
                    // itself
  std::size_t i = 0, j = 0;
  double value = 0;
};
struct PitzerThree {  // coefficient of m_i m_j m_k in G: psi, zeta
  std::size_t i = 0, j = 0, k = 0;
  double value = 0;
};
/// Ions of like sign and unlike charge: 2 E-theta = sum of factor times J(x) / x^2 of three charge
/// products, among PitzerView::ln_product.
struct PitzerUnequal {
  std::size_t i = 0, j = 0;
  std::size_t product[3] = {0, 0, 0};  // NOLINT(modernize-avoid-c-arrays): see above
  double factor[3] = {0, 0, 0};        // NOLINT(modernize-avoid-c-arrays)
};

struct PitzerView {
  std::size_t species = 0, pairs = 0, twos = 0, threes = 0, unequals = 0, alphas = 0, products = 0;
  double a_phi = 0;
  const double *half_square = nullptr, *magnitude = nullptr;  ///< z^2 / 2, |z| by species
  const PitzerPair* pair = nullptr;
  const PitzerTwo* two = nullptr;
  const PitzerThree* three = nullptr;
  const PitzerUnequal* unequal = nullptr;
  const double* alpha = nullptr;       ///< those that occur
  const double* ln_product = nullptr;  ///< ln |z z|, those that occur
  const double* table = nullptr;       ///< unsymmetric_table()
};

}  // namespace aeruca::detail
