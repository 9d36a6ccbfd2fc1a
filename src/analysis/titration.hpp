#pragma once

// The totals that a laboratory's readings ask for: the carbonate that answers a titration, and the
// ion that takes up the imbalance of charge. Private to the analysis part.

#include <optional>
#include <string>

#include "aeruca/analysis.hpp"

namespace aeruca::detail {

/// The ingredient as which the carbonate of a titration is weighed in.
inline constexpr const char* kCarbonate = "HCO3(-)";

/// Acid to the end point where carbonate is CO2(aq), in equivalents per kg of water.
struct Alkalinity {
  double carbonate = 0;  ///< of what holds carbonate
  double other = 0;      ///< OH(-), H(+), hydroxide complexes, ammonia
  [[nodiscard]] double sum() const { return carbonate + other; }
};

/// What a molecule of a dissolved species counts. O2(aq) and H2(aq) take no acid.
struct AlkalinityShare {
  double acid = 0;
  bool carbonate = false;
  void add(double molality, Alkalinity& sum) const {
    (carbonate ? sum.carbonate : sum.other) += molality * acid;
  }
};
[[nodiscard]] AlkalinityShare alkalinity_share(const Dataset& dataset, const Species& species);

/// Whether solids may form.
[[nodiscard]] bool allows_solids(const EquilibriumOptions& options);
/// The water as the laboratory had it: nothing has formed from it yet. Names of solids that cannot
/// form stay, and are refused.
[[nodiscard]] EquilibriumOptions without_solids(EquilibriumOptions options);
/// The alkalinity that the carbonate of a water is sought by; none where it is known otherwise.
[[nodiscard]] std::optional<double> titrated_alkalinity(const AnalysedWater& water);

/// A water whose totals are sought.
class SoughtWater {
 public:
  SoughtWater() = default;
  virtual ~SoughtWater() = default;
  SoughtWater(const SoughtWater&) = delete;
  SoughtWater& operator=(const SoughtWater&) = delete;

  /// With the totals as they stand; false: no answer. The rest is of the water solved last.
  virtual bool solve() = 0;
  [[nodiscard]] virtual Alkalinity alkalinity() const = 0;
  [[nodiscard]] virtual ChargeBalance charge() const = 0;
  /// mol/kg of an ingredient.
  virtual double& total(const std::string& ingredient) = 0;
};

/// Seeks the totals of one water. A step is false where there is no answer: the water has none, or
/// `refused` says why.
class Titration {
 public:
  /// Without an alkalinity the carbonate stays as it is.
  Titration(SoughtWater& water, std::optional<double> alkalinity_mol_per_kg)
      : water_(water), titrated_(alkalinity_mol_per_kg) {}

  /// Solves the water with the carbonate of its titration.
  bool find_carbonate();
  /// ... and with as much of an ion more or less as makes it neutral.
  bool assign_charge(const std::string& ion, int charge);

  struct Refusal {
    Status status;
    std::string message;
  };
  std::optional<Refusal> refused;
  double assigned_mol_per_kg = 0;

 private:
  enum class Step { done, on, stopped };
  Step scale_carbonate();
  bool refuse(Status status, std::string why);

  // One scaling of the carbonate: ln of what the alkalinity lacked, and of the factor on the total.
  struct Scaling {
    double lack, step;
  };

  SoughtWater& water_;
  std::optional<double> titrated_;
  std::optional<Scaling> before_;
};

}  // namespace aeruca::detail
