#pragma once

/// \file
/// How many grams of what stands on the shelf make the bath that was asked for.
///
/// Strength is percent w/v (g of the named salt per 100 mL of made-up bath) or mol/L. Sodium
/// sesquicarbonate means Na2CO3.NaHCO3.2H2O, so 1 % w/v is 10 g of that dihydrate per litre; the
/// same bath may be made from any sodium carbonate and sodium hydrogencarbonate, mole for mole. For
/// the other salts percent counts the anhydrous salt. Whether that much dissolves is a figure of
/// the data set, see `bath_solubility`. Exact stoichiometry; accuracy is that of the atomic weights
/// (better than 0.01 %) and of the stated purity. This file uses the data set's formula reader for
/// molar masses and its solubilities; the model of `bath.hpp` does not.

#include <string>
#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"

namespace aeruca {

enum class StrengthUnit { percent_w_v, mol_per_l };

struct WeighOutRequest {
  std::string salt = "sodium sesquicarbonate";  ///< see `bath_salts()`; "sodium" may be left out
  double strength = 0;                          ///< above 0
  StrengthUnit unit = StrengthUnit::percent_w_v;
  double volume_l = 1;  ///< of made-up bath, above 0
  /// What stands on the shelf; see `shelf_forms(salt)`. Must be named where there are several: the
  /// hydrate decides.
  std::string form;
  double purity_percent = 100;          ///< of each reagent as that form, above 0 to 100
  double reagent_chloride_percent = 0;  ///< Cl by mass of the reagents, 0 to 1
  double temperature_c = 20;            ///< of the water, for the solubility; 0 to 50
};

struct WeighedReagent {
  std::string name;     ///< "sodium carbonate decahydrate (washing soda)"
  std::string formula;  ///< "Na2CO3.10H2O"
  double molar_mass_g_per_mol = 0;
  double grams = 0;  ///< to weigh, purity counted
};

/// A mistake people make, and what it would give.
struct WeighOutTrap {
  std::string mistake;
  double factor = 1;  ///< strength got over strength wanted
};

/// How much of a bath salt water holds, as far as the data set tells.
struct BathSolubility {
  std::string solid;          ///< what would be left undissolved; empty: not in the data set
  double most_mol_per_l = 0;  ///< of the salt as named; NaN: not known
  double temperature_c = 0;   ///< the figure is for this temperature
  std::string source;         ///< key in the bibliography
  Basis basis = Basis::memory;
  std::string note;  ///< what limits the figure
};
/// Whether as much dissolves as was asked for, at the temperature of the solubility.
enum class Dissolves { yes, no, not_known };
/// "yes", "no" or "not known".
[[nodiscard]] std::string_view to_string(Dissolves dissolves);

struct WeighOut {
  std::string salt;  ///< in full
  std::string form;
  std::vector<WeighedReagent> reagents;
  double mol_per_l = 0;    ///< of the salt as named
  double percent_w_v = 0;  ///< of the salt as named
  double sodium_mol_per_l = 0;
  double blank_mg_per_l = 0;  ///< chloride the reagents bring in
  std::vector<WeighOutTrap> traps;
  std::vector<std::string> cautions;
  BathSolubility solubility;
  Dissolves dissolves = Dissolves::not_known;
  std::string solubility_words;  ///< one sentence
};

/// The figure at, or nearest to, that temperature. Figures per kilogram of water are taken as per litre
/// of bath: 3 % high for a saturated carbonate bath, less for weaker ones. Throws UnknownName.
[[nodiscard]] BathSolubility bath_solubility(const Dataset& dataset, std::string_view name,
                                             double temperature_c = 20);

/// Whether the name is that of water without a salt: "water", "deionised water", "distilled water"
/// and the like; not tap water, which holds salts.
[[nodiscard]] bool is_plain_water(std::string_view name);

/// mol/L of so much of a salt (g of it as named per 100 mL). Throws as `bath_salt`, and InputError
/// for a percentage outside above 0 to 50.
[[nodiscard]] double strength_mol_per_l(const Dataset& dataset, std::string_view salt,
                                        double percent_w_v);

/// mg of sodium in a litre of so much of a salt. Throws as `bath_salt`.
[[nodiscard]] double bath_sodium_mg_per_l(const Dataset& dataset, std::string_view salt,
                                          double mol_per_l);

/// Names of the bath salts of the data set, in full.
[[nodiscard]] std::vector<std::string> bath_salts(const Dataset& dataset);
/// The salt by its name, with or without "sodium", or by another name it goes by ("soda ash").
/// Throws UnknownName, or InputError that lists the names when none is near; InputError also for a
/// name of one hydrate ("washing soda"), which leaves open whether a percentage counts its water.
[[nodiscard]] const BathSalt& bath_salt(const Dataset& dataset, std::string_view name);
/// Names accepted as `form` for a salt; those of what stands on the shelf serve as well ("washing
/// soda"). Throws as `bath_salt`.
[[nodiscard]] std::vector<std::string> shelf_forms(const Dataset& dataset, std::string_view salt);
/// Throws as `bath_salt` for salt or form (an empty form where there are several: InputError
/// listing the forms), InputError for numbers outside their ranges. A strength that does not
/// dissolve is weighed out all the same, and said in `dissolves` and `solubility_words`.
[[nodiscard]] WeighOut weigh_out(const Dataset& dataset, const WeighOutRequest& request);

}  // namespace aeruca
