#pragma once

// Pitzer's equations in the form of Harvie, Moller & Weare 1984, Geochim. Cosmochim. Acta 48, 723,
// doi 10.1016/0016-7037(84)90098-X, as the gradient of the excess function
//   G = f(I) + sum_ca m_c m_a (2 B_ca(I) + Z C_ca) + sum_{i<j} m_i m_j (2 theta_ij + 2
//   E-theta_ij(I))
//     + sum_ijk psi m m m + 2 sum_ni lambda m_n m_i + sum zeta m m m,      Z = sum |z_i| m_i.

#include <span>
#include <string>
#include <vector>

#include "aeruca/activity.hpp"

namespace aeruca::detail {

struct PitzerPair {
  std::size_t cation = 0, anion = 0;
  double beta0 = 0, beta1 = 0, beta2 = 0;
  double c = 0;  // C = C_phi / (2 sqrt |z_c z_a|)
  double alpha1 = 2, alpha2 = 12;
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

struct PitzerSystem {
  std::vector<double> charge;
  double a_phi = 0;
  std::vector<PitzerPair> pairs;
  std::vector<PitzerTwo> twos;
  std::vector<PitzerThree> threes;
  double ionic_strength_max = 0;
  std::vector<std::string> figures, remarks;
  std::vector<MissingPair> missing;
};

/// The parameters of one set at a temperature. A derivative that is not known counts as zero.
[[nodiscard]] PitzerPair pitzer_pair(const PitzerBinary& set, std::size_t cation, std::size_t anion,
                                     double charge_product, double temperature_c);

/// Charges, parameters and remarks for a list of species. Throws as make_activity.
[[nodiscard]] PitzerSystem pitzer_system(const Dataset& dataset,
                                         std::span<const std::string> species,
                                         double temperature_c);

class Pitzer : public Activity {
 public:
  explicit Pitzer(PitzerSystem system);
  void evaluate(std::span<const double> molality, ActivityValues& out) const override;
  void evaluate_values(std::span<const double> molality, ActivityValues& out) const override;
  [[nodiscard]] double ionic_strength_max() const override { return system_.ionic_strength_max; }
  [[nodiscard]] std::vector<std::string> figures() const override { return system_.figures; }
  [[nodiscard]] std::vector<std::string> remarks() const override { return system_.remarks; }
  [[nodiscard]] std::vector<MissingPair> missing_pairs() const override { return system_.missing; }

 private:
  struct Sums;
  enum class Wanted { values, slopes };
  void sum_up(std::span<const double> molality, Wanted wanted, ActivityValues& out) const;
  void add_limiting_law(Sums& sums) const;
  void add_pairs(Sums& sums) const;
  void add_unsymmetric(Sums& sums) const;
  void add_constant_terms(Sums& sums) const;

  PitzerSystem system_;
  std::vector<double> magnitude_;  // |z|
  struct Unequal {                 // ions of like sign and unlike charge
    std::size_t i, j;
    int product, square_i, square_j;
  };
  std::vector<Unequal> unequal_;
  std::vector<int> products_;  // charge products whose J is needed
  std::vector<double> ln_products_;
  std::vector<double> alphas_;  // each once
  struct Alphas {
    std::size_t first, second;  // of a pair, among them
  };
  std::vector<Alphas> alphas_of_;  // by pair
};

}  // namespace aeruca::detail
