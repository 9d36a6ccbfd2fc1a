#include "equilibrium/stability.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numeric>
#include <vector>

#include "aeruca/not_given.hpp"
#include "equilibrium/bounds.hpp"

namespace aeruca::detail {

namespace {

// A species of this share of all molality moves the smallest eigenvalue by about as much.
constexpr double kSurely = 0.5;  // norm of K below which the eigenvalues are not asked for

std::vector<std::size_t> those_that_matter(std::span<const double> molality) {
  const double all = std::accumulate(molality.begin(), molality.end(), 0.0);
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < molality.size(); ++i) {
    if (molality[i] > kLeastShare * all) kept.push_back(i);
  }
  return kept;
}

// Frobenius norm of K = sqrt(m_i m_j) d ln gamma_i / d m_j over the species that matter.
double norm_of(std::span<const std::size_t> slot, std::span<const double> molality,
               const ActivityValues& values) {
  const double all = std::accumulate(molality.begin(), molality.end(), 0.0);
  const std::size_t model = values.ln_gamma.size();
  double squares = 0;
  for (std::size_t i = 0; i < molality.size(); ++i) {
    if (!(molality[i] > kLeastShare * all)) continue;
    const double* row = values.ln_gamma_by_molality.data() + slot[i] * model;
    double of_row = 0;
    for (std::size_t j = 0; j < i; ++j) {
      if (molality[j] > kLeastShare * all) of_row += molality[j] * row[slot[j]] * row[slot[j]];
    }
    squares += molality[i] * (2 * of_row + molality[i] * row[slot[i]] * row[slot[i]]);
  }
  return std::sqrt(squares);
}

}  // namespace

double solution_stability(std::span<const double> charge, std::span<const std::size_t> slot,
                          std::span<const double> molality, const ActivityValues& values) {
  const double norm = norm_of(slot, molality, values);
  if (!std::isfinite(norm)) return kNotGiven;
  if (norm < kSurely) return 1 - norm;  // |eigenvalue of K| <= Frobenius norm
  const std::vector<std::size_t> kept = those_that_matter(molality);
  const auto n = static_cast<Eigen::Index>(kept.size());
  const std::size_t model = values.ln_gamma.size();
  Eigen::MatrixXd k(n, n);
  Eigen::VectorXd q(n);  // dm_i = sqrt(m_i) x_i, so neutrality reads q . x = 0
  for (Eigen::Index a = 0; a < n; ++a) {
    const std::size_t i = kept[static_cast<std::size_t>(a)];
    q(a) = charge[i] * std::sqrt(molality[i]);
    for (Eigen::Index b = 0; b < n; ++b) {
      const std::size_t j = kept[static_cast<std::size_t>(b)];
      k(a, b) = std::sqrt(molality[i] * molality[j]) *
                values.ln_gamma_by_molality[slot[i] * model + slot[j]];
    }
  }
  // K projected on the neutral changes, (1 - q q') K (1 - q q'); along q itself 1 is left.
  if (q.norm() > 0) {
    q.normalize();
    const Eigen::VectorXd image = k * q;
    const double both = q.dot(image);
    k += both * q * q.transpose() - q * image.transpose() - image * q.transpose();
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(k, Eigen::EigenvaluesOnly);
  return 1 + eigen.eigenvalues()(0);
}

}  // namespace aeruca::detail
