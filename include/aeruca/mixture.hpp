#pragma once

/// \file
/// What a mixture of salts is at every humidity: which solids, how much brine, and where that
/// changes.
///
/// Words. *Mutual deliquescence*: the lowest humidity at which this mixture has a brine. *Onset*: a
/// humidity at which a solid comes or goes, as the humidity rises. *Window*: the range between two
/// onsets, in which nothing changes phase and no salt crystallises or dissolves altogether.
///
/// At a humidity the potential of water is that of the air, ln a(w) = RH / 100, and water comes and
/// goes. With a brine the state is an equilibrium with the water activity held, certified
/// (equilibrium.hpp). Without one it is the assemblage of solids of lowest Gibbs energy, by a linear
/// program whose prices prove it, and the proof that no solution lowers the energy further: the
/// solution that comes nearest, with the ions at the potentials of the solids, would need moister
/// air (`nearest_solution_rh_percent`). The proof is complete for a convex model and sought from
/// several starts otherwise; where the model has no such solution in its range it speaks of solutions
/// up to the end of that, and a warning says so. A state that is neither is no name for dry: its
/// status says what failed.
///
/// Salts of strong acids and bases, ammonium and copper(II): solids that need acid, base or another
/// valence to form (carbonates, hydroxide chlorides) are not among them, and ions whose salts trade
/// acid with the air (carbonate, acetate, formate, sulfide) are refused. The brine holds the ions and
/// their complexes without acid or base: the hydrolysis of copper(II), hydrogensulfate and ammonia
/// are left out. Activities by Pitzer's equations; 0 to 50 degrees C as far as the constants of the
/// solids are known there.
///
/// Relative humidity is taken as the water activity (off by less than 0.1 % of it). Equilibrium: on
/// the way down a brine may stay liquid far below its onset. The uncertainty is that of parameters
/// and constants, 1 to 3 % RH where the mixing terms are known, 10 and more in strong nitrate brines
/// where they are not; the brine's warnings say where the model leaves its range.

#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// The state of a mixture at one humidity. Amounts as given: for moles of ions in, moles of solids
/// and kilograms of water out.
struct MixtureState {
  double rh_percent = 0;
  Status status = Status::iteration_limit;  ///< converged: certified, with or without a brine
  bool brine = false;
  std::map<std::string, double> solids;          ///< mol
  double water_kg = 0;                           ///< liquid, in the brine; 0 without
  std::map<std::string, double> brine_molality;  ///< of the ions, mol/kg; empty without
  /// Without a brine: the humidity that the solution which comes nearest would need; else NaN
  double nearest_solution_rh_percent = kNotGiven;
  /// Without a brine: proven for solutions within the range of the activity model alone
  bool to_end_of_range = false;
  std::string message;                ///< why there is no answer
  std::vector<std::string> warnings;  ///< of the brine
};

/// Where a phase comes or goes. `drier` and `moister` name the solids on either side.
struct MixtureOnset {
  double rh_percent = 0;  ///< located to 0.001
  std::vector<std::string> drier, moister;
  bool brine_when_drier = false, brine_when_moister = false;
  /// One standard uncertainty (% RH) where a brine first forms, of constants, osmotic coefficient and
  /// mixing terms that nobody has published; NaN elsewhere. Of 15 that were measured all but one lie
  /// within twice of it (calcium with potassium nitrate, 13 % RH off)
  double rh_uncertainty_percent = kNotGiven;
};

struct MixtureSweep {
  double temperature_c = 25;
  std::map<std::string, double> ions;  ///< mol, as given
  std::vector<MixtureState> states;    ///< by rising humidity
  std::vector<MixtureOnset> onsets;    ///< between them, by rising humidity
  /// NaN: no brine or nothing but brine between the first and the last humidity, or no answer
  double mutual_deliquescence_rh_percent = kNotGiven;
  double mutual_deliquescence_uncertainty_percent = kNotGiven;  ///< of that onset
  /// Of several that differ in their figures alone, the one at the lowest humidity
  std::vector<std::string> warnings;
};

/// How a mixture is solved.
struct MixtureOptions {
  double temperature_c = 25;          ///< 0 to 50
  std::vector<std::string> left_out;  ///< solids that are not to form
};

/// A mixture, prepared; use from many threads.
class SaltMixture {
 public:
  /// Moles of each ion, by the name of a component (`Na(+)`, `SO4(2-)`), in any proportion that is
  /// neutral to 1e-9. Throws UnknownName; InputError for a negative or no amount, charges that do
  /// not cancel, an ion that is not served.
  SaltMixture(const std::shared_ptr<const Dataset>& dataset, std::map<std::string, double> ions,
              const MixtureOptions& options = {});
  ~SaltMixture();
  SaltMixture(SaltMixture&& other) noexcept;
  SaltMixture& operator=(SaltMixture&& other) noexcept;

  /// Solids that may form.
  [[nodiscard]] const std::vector<std::string>& solids() const;
  /// rh_percent above 0 and below 100, else InputError.
  [[nodiscard]] MixtureState at(double rh_percent) const;
  /// At rising humidities, with every onset between neighbours located; where two lie between the
  /// same neighbours both are found as long as the states between them differ. More water is never
  /// held by drier air: a state without a brine above one with a brine is no answer, and an onset
  /// that could not be located for that is told among the warnings.
  [[nodiscard]] MixtureSweep sweep(std::span<const double> rh_percent) const;

 private:
  struct Impl;
  std::unique_ptr<const Impl> impl_;
};

}  // namespace aeruca
