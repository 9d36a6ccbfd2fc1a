#pragma once

/// \file
/// At which relative humidity does a salt dissolve in water taken from the air, and what is its
/// solution like?
///
/// Words. *Deliquescence humidity*: 100 times the water activity of the solution saturated with the
/// salt; in moister air the crystal becomes brine. Coming down, brine often stays below it: the
/// humidity of crystallisation is a measured figure, not an equilibrium, and is not computed here.
/// *Osmotic coefficient* phi: ln a(water) = -phi M_w nu m. *Set*: one published group of Pitzer
/// parameters, such as "Na-Cl:HMW84".
///
/// Equations. Pitzer for one salt M(a)X(b), with alpha and the slope of `water.hpp`:
///   phi - 1 = |zM zX| f(I) + m (2 nM nX / nu) B(I) + m^2 (2 (nM nX)^1.5 / nu) C
///     Pitzer & Mayorga 1973, J. Phys. Chem. 77, 2300, eqs 3 to 7 (doi 10.1021/j100638a009);
///     beta2 term Pitzer & Mayorga 1974, J. Solution Chem. 3, 539 (doi 10.1007/BF00648138).
/// Saturation from the constant:  sum nu_i ln(m_i gamma_i) + waters * ln a(water) = ln K.
///
/// Which figure is given. Where the measured solubility is known at the temperature, the humidity
/// is that of the solution of this molality (it then rests on the osmotic coefficient alone); the
/// figure from the constant stands beside it. Without a solubility, from the constant, away
/// from 25 degrees C carried by its heat and heat capacity where neither is an estimate. The
/// solubility is interpolated inside its table, never beyond it, and the parameters must be known
/// there (see `PitzerBinary::temperature_min_c`); else the
/// answer is "not known" with its reason, and the measured humidities are given.
///
/// Uncertainty of the humidity, in squares: the osmotic coefficient (as the set states, else 0.01;
/// with it what the covariance of a set fitted here makes at this molality and temperature, else
/// 0.0003 more per degree from 25; and 0.02 (x^2 - 1) more at x times the molality range of the
/// set), the molality at saturation (0.5 % at a tabulated temperature, 1 % between, or its gap
/// to the constant when wider), and 0.1 % RH for what is left out. That last part is a floor:
/// relative humidity is taken as the water activity, though the vapour is not ideal (below 0.1 % at
/// room temperature and 1 bar), and no set meets its own data closer; without it sparingly soluble
/// salts would seem known to 0.00 % RH. It is our estimate. A set fitted to the saturation humidity
/// is held no better than the measurements agree.
///
/// Accuracy. Each result carries its uncertainty and how that was derived. Within the molality
/// range of a set 0.1 to 1 % RH is usual; disagreements with measurement are listed, not smoothed.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca {

/// A solution of one salt.
struct SaltSolution {
  std::string solid;       ///< `halite`
  std::string anhydrous;   ///< `NaCl`
  std::string pitzer_set;  ///< id of the set used
  double molality = 0;     ///< mol of anhydrous salt per kg of water
  double temperature_c = 0;
  double ionic_strength = 0;  ///< mol/kg
  double osmotic_coefficient = 0;
  double mean_activity_coefficient = 0;  ///< molal scale
  double water_activity = 0;
  double osmotic_uncertainty = 0;         ///< absolute, one standard uncertainty; see `remarks`
  double water_activity_uncertainty = 0;  ///< of the osmotic coefficient alone
  std::vector<std::string> warnings;      ///< outside the range of the set, derivatives missing ...
};

/// The solution of one salt, from the parameters of its data set entry (`pitzer_set` empty: the set
/// the salt names) or of the set asked for. `name`: mineral, formula or anhydrous formula. Molality
/// 0 to 30 mol/kg; temperature 0 to 50 degrees C. NaN molality: NaN figures. Throws UnknownName for
/// the salt or the set, InputError out of range, for a set of other ions, or for a salt of more
/// than two ions.
[[nodiscard]] SaltSolution single_salt(const Dataset& dataset, std::string_view name,
                                       double molality, double temperature_c = 25.0,
                                       std::string_view pitzer_set = "");

/// The same over many molalities, one array per figure; an empty result for no molality.
struct SaltCurve {
  std::string pitzer_set;
  std::vector<double> osmotic_coefficient, mean_activity_coefficient, water_activity;
};
[[nodiscard]] SaltCurve salt_curve(const Dataset& dataset, std::string_view name,
                                   std::span<const double> molality, double temperature_c = 25.0,
                                   std::string_view pitzer_set = "");

/// A measured or evaluated humidity beside the computed one.
struct HumidityComparison {
  MeasuredHumidity measured;
  double difference_percent = 0;  ///< computed minus measured (% RH), both at the measured
                                  ///< temperature; NaN: not computed there
  bool disagrees = false;  ///< the difference exceeds twice the combined uncertainty (1 % RH is
                           ///< taken for a measurement that states none)
};

/// What `Deliquescence::rh_percent` rests on.
enum class SaturationBasis { solubility, constant, not_known };
/// "solubility", "constant" or "not known".
[[nodiscard]] std::string_view to_string(SaturationBasis basis);

/// The deliquescence humidity of one salt, with what supports it and what speaks against it.
struct Deliquescence {
  std::string salt;   ///< formula with its water, `MgCl2.6H2O`
  std::string solid;  ///< `bischofite`
  double temperature_c = 25;
  double rh_percent = 0;              ///< NaN: not known, see `not_known_because`
  double rh_uncertainty_percent = 0;  ///< one standard uncertainty (% RH)
  std::string uncertainty_from;       ///< how it was derived, with its parts
  SaturationBasis basis = SaturationBasis::not_known;
  std::string not_known_because;  ///< empty when known
  std::string pitzer_set;
  /// Solubility (mol anhydrous salt per kg water); NaN: not known here
  double molality_measured = 0;
  double molality_from_constant = 0;    ///< NaN: no constant, or a solubility away from 25 C
  double rh_from_constant_percent = 0;  ///< NaN likewise
  std::string note;                     ///< of the salt's entry in the data set
  bool humidity_in_fit = false;  ///< the saturation humidity was an input: agreement proves nothing
  /// Within 5.5 degrees C, the best first: doubtful ones last; evaluated, measured, compiled; then
  /// the nearest in temperature; then the smallest uncertainty
  std::vector<HumidityComparison> measured;
  std::vector<std::string> warnings;
  std::vector<std::string> sources;  ///< keys: constant, set
};

/// Throws UnknownName, and InputError for a temperature outside 0 to 50 degrees C. NaN temperature:
/// NaN. When data are missing the result says so (`basis` not_known) and still lists the
/// measurements.
[[nodiscard]] Deliquescence deliquescence(const Dataset& dataset, std::string_view name,
                                          double temperature_c = 25.0,
                                          std::string_view pitzer_set = "");

/// Deliquescence humidities over temperature; NaN where not known, with the reason of the first
/// such.
struct DeliquescenceCurve {
  std::vector<double> rh_percent, rh_uncertainty_percent;
  std::string not_known_because;
};
[[nodiscard]] DeliquescenceCurve deliquescence_curve(const Dataset& dataset, std::string_view name,
                                                     std::span<const double> temperature_c,
                                                     std::string_view pitzer_set = "");

/// A measured humidity interpolated (monotone cubic) inside one evaluated table of the data set.
struct MeasuredCurvePoint {
  double rh_percent = 0;
  double uncertainty_percent = 0;  ///< interpolated likewise; NaN: not stated
  std::string source;
  double temperature_min_c = 0, temperature_max_c = 0;  ///< of the table
};
/// The fullest "evaluated" table of the solid serves; with fewer than two temperatures in it only
/// its own temperature is answered. Throws UnknownName when the solid has no measured humidity,
/// InputError outside the table, and with the single values that are known when there is no table.
/// NaN in, NaN out.
[[nodiscard]] MeasuredCurvePoint measured_humidity(const Dataset& dataset, std::string_view solid,
                                                   double temperature_c);

/// Names of the salts for which a deliquescence humidity can be computed at 25 degrees C.
[[nodiscard]] std::vector<std::string> computable_salts(const Dataset& dataset);

}  // namespace aeruca
