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
/// | pitzer | Pitzer with theta, psi, lambda, zeta, unsymmetric mixing | that of the sets of the   |
/// |        |                                            | dominant ions                      |
/// Outside its range a model still answers; the result then carries a warning, which reaches every
/// output.
///
/// Words. gamma_i: activity coefficient of species i, activity = gamma_i m_i. I = 1/2 sum z^2 m:
/// ionic strength (mol/kg). A, A_phi = A ln(10) / 3: Debye-Hueckel slopes of `water.hpp`, 0.509 and
/// 0.391 kg^0.5/mol^0.5 at 25 degrees C. M_w = 0.018015 kg/mol.
///
/// Equations.
///   dilute   log10 gamma_i = -z_i^2 A (sqrt(I) / (1 + sqrt(I)) - 0.3 I)
///            C. W. Davies 1962, Ion Association, p. 41.
///   sit      log10 gamma_i = -z_i^2 A sqrt(I) / (1 + 1.5 sqrt(I)) + sum_j epsilon(i,j) m_j
///            over ions j of the other sign; L. Ciavatta 1980, Ann. Chim. (Rome) 70, 551.
///   pitzer   f = -4 A_phi I / 1.2 ln(1 + 1.2 sqrt(I)), and with it
///            G = f + 2 sum_ca m_c m_a (B_ca + (sum_c z_c m_c) C_ca) + mixing of like signs,
///            B_ca = beta0 + beta1 g(alpha1 sqrt(I)) + beta2 g(alpha2 sqrt(I)),
///            g(x) = 2 [1 - (1 + x) e^-x] / x^2,  C_ca = c_phi / (2 sqrt(|z_c z_a|));
///            ln gamma_i = dG/dm_i.  K. S. Pitzer 1973, J. Phys. Chem. 77, 268; theta, psi, lambda
///            and zeta as C. E. Harvie, N. Moller & J. H. Weare 1984, Geochim. Cosmochim. Acta 48,
///            723; unsymmetric mixing, Pitzer 1975, J. Solution Chem. 4, 249, eq 46.
/// Parameters that the data set does not have are estimated, never zero, and named in the remarks:
///   sit      epsilon = 0.04 + 0.18 (z+ - 1) - 0.14 (|z-| - 1) kg/mol, good to 0.06 z+ |z-|: through
///            the means of the tabulated ones by charge.
///   pitzer   with the epsilon of the pair, tabulated or estimated so,
///            beta0 = 1/2 ln(10) epsilon + 0.042 q,  beta1 = 0.28, 1.65, 5.5 for the larger charge
///            1, 2, 3 (0.28 z^2.7 beyond) times the smaller,  q = z+ |z-| max(z+, |z-|): what makes
///            the two models agree for a trace in a salt of single charges up to 6 mol/kg
///            (tests/reference/fit_interaction.py). Good to half ln(10) times the doubt of epsilon.
///
/// Complexes. Each published coefficient or set declares the complexes of its two ions that it was
/// fitted beside; it contains all others, and a system is built without those.
///
/// The water activity of every model follows from its own gamma by Gibbs and Duhem:
///   ln a(w) = -M_w (sum m + sum_i m_i ln gamma_i - G),
/// so that the two never contradict each other. Neutral species have gamma 1 but for lambda and
/// zeta.
///
/// Accuracy. Mean activity coefficients of NaCl and KCl at 25 degrees C against those tabulated by
/// Robinson and Stokes 1965, Electrolyte Solutions (recalled); ions of more charge do worse:
///
/// | model  | off by                                | away from 25 degrees C                  |
/// |--------|---------------------------------------|-----------------------------------------|
/// | ideal  | 4 % at 0.001 mol/kg, 29 % at 0.1      | the same                                |
/// | dilute | 2 % up to 0.1 mol/kg, 13 % at 0.5     | the slope follows it                    |
/// | sit    | 3 % up to 3.5 mol/kg                  | the slope follows it, epsilon does not  |
/// | pitzer | 1 % within `molality_max` of the set  | as the set states                       |
///
/// Range. 0 to 50 degrees C. Parameters that a set does not have, or not at a temperature, are
/// named in `remarks`. Degenerate case: no ions at all, gamma 1 and ln a(w) = -M_w sum m.

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

/// Two ions for which a model has no parameters and estimates them; positions in the list of
/// species.
struct EstimatedPair {
  std::size_t cation = 0, anion = 0;
  /// Standard uncertainty of log10 gamma of either, per mol/kg of the other (kg/mol)
  double uncertainty = 0;
};

/// Activity coefficients of a fixed list of dissolved species at a fixed temperature.
class Activity {
 public:
  virtual ~Activity() = default;
  /// Molalities (n), mol/kg(water), none negative. `out` is resized once and then reused.
  virtual void evaluate(std::span<const double> molality, ActivityValues& out) const = 0;
  /// Values alone; the derivatives in `out` have no meaning until `evaluate_slopes`.
  virtual void evaluate_values(std::span<const double> molality, ActivityValues& out) const {
    evaluate(molality, out);
  }
  /// After `evaluate_values` at the same molalities: the derivatives between species that are there
  /// (molality above 0); of others they have no meaning.
  virtual void evaluate_slopes(std::span<const double> molality, ActivityValues& out) const {
    evaluate(molality, out);
  }
  /// Highest ionic strength the model is meant for, mol/kg, in a water of these molalities (n): of
  /// pitzer the smallest range of the sets of two ions that each carry a tenth or more of the charge
  /// of their sign.
  [[nodiscard]] virtual double ionic_strength_max(std::span<const double> molality) const = 0;
  /// Figures (ids) and estimates the model used, for the provenance of a result.
  [[nodiscard]] virtual std::vector<std::string> figures() const { return {}; }
  /// What a reader must know: estimated coefficients, temperatures. Empty if nothing.
  [[nodiscard]] virtual std::vector<std::string> remarks() const { return {}; }
  [[nodiscard]] virtual std::vector<EstimatedPair> estimated_pairs() const { return {}; }
};

/// A dissolved complex of two ions whose parameters contain it.
struct ContainedComplex {
  std::string name, cation, anion;
};

/// Dissolved complexes of the data set that the parameters of a model already contain, so that
/// beside them they would be counted twice: every complex M X(n) of a cation and an anion that have
/// chosen parameters as a pair, but for those that the parameters declare (HSO4(-) stands beside the
/// set of H(+) with SO4(2-): Harvie, Moller & Weare 1984). None in the models without parameters of
/// pairs.
[[nodiscard]] std::vector<ContainedComplex> contained_complexes(ActivityModel model,
                                                                const Dataset& dataset);

/// The sentence that tells of them, by name; as the remarks of a model.
[[nodiscard]] std::string contained_remark(ActivityModel model,
                                           std::span<const std::string> complexes);

/// Makes a model for the named dissolved species. Throws UnknownName for a species that is not in
/// the data set, InputError for a temperature outside 0 to 50 degrees C.
[[nodiscard]] std::unique_ptr<Activity> make_activity(ActivityModel model, const Dataset& dataset,
                                                      std::span<const std::string> species,
                                                      double temperature_c);

}  // namespace aeruca
