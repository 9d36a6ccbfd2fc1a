#pragma once

/// \file
/// Activity coefficients and water activity of a solution, behind one interface.
///
/// A model is made once for a list of dissolved species and a temperature, then evaluated for many
/// compositions without allocating. Molal scale, solvent activity on the mole-fraction scale.
///
/// | model  | equation                                   | stated range                       |
/// |--------|--------------------------------------------|------------------------------------|
/// | ideal  | ln gamma = 0, ln a(w) = -M_w sum m         | teaching and checks                |
/// | dilute | extended Debye-Hueckel with 0.3 I (Davies) | I up to 0.5 mol/kg                 |
/// | sit    | Debye-Hueckel (1.5) + sum epsilon m        | I up to 3.5 mol/kg                 |
/// | pitzer | Pitzer with theta, psi, lambda, zeta, unsymmetric mixing | per parameter set    |
/// Outside its range a model still answers and says so in `warning`, which reaches every output.

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca {

enum class ActivityModel { ideal, dilute, sit, pitzer };

/// "ideal", "dilute", "sit", "pitzer".
[[nodiscard]] std::string_view to_string(ActivityModel model);
/// Throws UnknownName.
[[nodiscard]] ActivityModel activity_model_from(std::string_view name);

/// Values and first derivatives at one composition; n is the number of species of the model.
struct ActivityValues {
  std::vector<double> ln_gamma;  ///< (n)
  double ln_water_activity = 0;
  std::vector<double> ln_gamma_by_molality;  ///< (n, n) row-major, d ln gamma_i / d m_j (kg/mol)
  std::vector<double> ln_water_by_molality;  ///< (n), kg/mol
  double ionic_strength = 0;                 ///< mol/kg
};

/// Activity coefficients of a fixed list of dissolved species at a fixed temperature.
class Activity {
 public:
  virtual ~Activity() = default;
  /// Molalities (n), mol/kg(water), none negative. `out` is resized once and then reused.
  virtual void evaluate(std::span<const double> molality, ActivityValues& out) const = 0;
  /// Highest ionic strength the model is meant for, mol/kg.
  [[nodiscard]] virtual double ionic_strength_max() const = 0;
  /// Figures (ids) and estimates the model used, for the provenance of a result.
  [[nodiscard]] virtual std::vector<std::string> figures() const { return {}; }
  /// What a reader must know: estimated coefficients, missing parameters. Empty if nothing.
  [[nodiscard]] virtual std::vector<std::string> remarks() const { return {}; }
};

/// Makes a model for the named dissolved species. Throws UnknownName for a species that is not in
/// the data set, InputError for a temperature outside 0 to 50 degrees C.
[[nodiscard]] std::unique_ptr<Activity> make_activity(ActivityModel model, const Dataset& dataset,
                                                      std::span<const std::string> species,
                                                      double temperature_c);

}  // namespace aeruca
