#pragma once

// Pitzer's equations in the form of Harvie, Moller & Weare 1984, Geochim. Cosmochim. Acta 48, 723,
// doi 10.1016/0016-7037(84)90098-X, as the gradient of the excess function
//   G = f(I) + sum_ca m_c m_a (2 B_ca(I) + Z C_ca) + sum_{i<j} m_i m_j (2 theta_ij + 2
//   E-theta_ij(I))
//     + sum_ijk psi m m m + 2 sum_ni lambda m_n m_i + sum zeta m m m,      Z = sum |z_i| m_i.

#include <span>
#include <string>
#include <vector>

#include "activity/pitzer_view.hpp"
#include "aeruca/activity.hpp"

namespace aeruca::detail {

inline constexpr double kUnstatedMolality = 6.0;  // range of a set that states none, mol/kg

/// Up to which ionic strength the set of two ions was fitted.
struct PitzerRange {
  std::size_t cation = 0, anion = 0;
  double ionic_strength = 0;
};

struct PitzerSystem {
  std::vector<double> charge;
  double a_phi = 0;
  std::vector<PitzerPair> pairs;
  std::vector<PitzerTwo> twos;
  std::vector<PitzerThree> threes;
  std::vector<PitzerRange> ranges;  // of the sets that state one
  std::vector<std::string> figures, remarks;
  std::vector<EstimatedPair> estimated;
};

/// The parameters of one set at a temperature. A derivative that is not known counts as zero.
[[nodiscard]] PitzerPair pitzer_pair(const PitzerBinary& set, std::size_t cation, std::size_t anion,
                                     double charge_product, double temperature_c);

/// The parameters of two ions without a set, by the rule of the public header.
[[nodiscard]] PitzerPair estimated_pitzer_pair(double epsilon, std::size_t cation,
                                               std::size_t anion, double cation_charge,
                                               double anion_charge);

/// Charges, parameters and remarks for a list of species. Throws as make_activity.
[[nodiscard]] PitzerSystem pitzer_system(const Dataset& dataset,
                                         std::span<const std::string> species,
                                         double temperature_c);

/// The system, or a part of its species, as PitzerSums takes it.
class PitzerTable {
 public:
  PitzerTable() = default;
  /// `chosen`: positions in the list of species of the system.
  PitzerTable(const PitzerSystem& system, std::span<const std::size_t> chosen);
  [[nodiscard]] PitzerView view() const;

 private:
  void take_pairs(const PitzerSystem& system, std::span<const std::size_t> place);
  void take_mixing(const PitzerSystem& system, std::span<const std::size_t> place);
  void find_unequal(std::span<const double> charge);
  std::size_t term_of(double alpha);
  std::size_t product_of(double product);

  double a_phi_ = 0;
  std::vector<double> half_square_, magnitude_, alpha_, ln_product_;
  std::vector<PitzerPair> pairs_;
  std::vector<PitzerTwo> twos_;
  std::vector<PitzerThree> threes_;
  std::vector<PitzerUnequal> unequals_;
};

class Pitzer : public Activity {
 public:
  explicit Pitzer(PitzerSystem system);
  void evaluate(std::span<const double> molality, ActivityValues& out) const override;
  void evaluate_values(std::span<const double> molality, ActivityValues& out) const override;
  [[nodiscard]] double ionic_strength_max(std::span<const double> molality) const override;
  [[nodiscard]] std::vector<std::string> figures() const override { return system_.figures; }
  [[nodiscard]] std::vector<std::string> remarks() const override { return system_.remarks; }
  [[nodiscard]] std::vector<EstimatedPair> estimated_pairs() const override {
    return system_.estimated;
  }
  [[nodiscard]] const PitzerSystem& system() const { return system_; }

 private:
  static std::vector<double>& room();

  PitzerSystem system_;
  PitzerTable table_;
  std::vector<std::size_t> every_;  // species
};

}  // namespace aeruca::detail
