#pragma once

// Where one water stands on its way to equilibrium: its potentials and molalities, what is tied,
// and what follows from them. The stages (descend.hpp, refine.hpp, follow.hpp) move it; each keeps
// only the room for its own step.

#include <cstddef>
#include <span>
#include <vector>

#include "aeruca/activity.hpp"
#include "aeruca/errors.hpp"
#include "equilibrium/chemistry.hpp"
#include "equilibrium/ties.hpp"
#include "equilibrium/valence_balance.hpp"

namespace aeruca::detail {

/// What is asked of the activity model.
enum class ActivityOf { values, values_and_slopes };

/// exp of what is not absurdly large; e^230 beyond.
double bounded_exp(double exponent);

struct WaterState {
  const Chemistry* chemistry = nullptr;
  const Activity* activity = nullptr;  ///< null: ln gamma = 0, a(H2O) = 1
  double share = 1;                    ///< of ln gamma and ln a(H2O) that is counted
  bool solids_form = true;
  int iterations = 0;

  std::vector<double> lambda;    ///< by column
  std::vector<double> u;         ///< ln molality
  std::vector<double> molality;  ///< exp(u)
  std::vector<double> ln_gamma;  ///< in use
  double ln_water = 0;           ///< ln a(H2O) in use
  Ties ties;
  std::vector<double> amount;  ///< of ties.phases(), never negative in an answer

  ActivityValues values;                             ///< what the activity model said last
  std::vector<double> model_molality;                ///< by species of the activity model
  bool slopes_known = false;                         ///< in values
  std::vector<double> reduced;                       ///< species rows over the free potentials
  std::vector<double> reduced_water;                 ///< their coefficients of ln a(H2O)
  std::vector<double> reduced_totals;                ///< by free potential
  std::vector<double> positive_part, negative_part;  ///< of each balance, P and N
  std::vector<double> residual;                      ///< ln(P / N)
  std::vector<double> lack;  ///< of each species: constant + row . lambda - ln gamma - u

  // Where the pH follows from the charge.
  std::size_t hydrogen = kNone;  ///< among the free balances
  std::vector<double> acid;      ///< of the species in that balance (acid_share)
  bool by_charge = false;        ///< the balance of charge stands for it

  ValenceBalance valence;  ///< where electrons are conserved

  std::vector<double> dissolved;    ///< by column, when amounts were last asked for
  std::vector<double> all_amounts;  ///< of the pinned reservoirs, then of the solids

  /// `water` must outlive the use of the state; `model` may be null.
  void prepare(const Chemistry& water, const Activity* model, std::size_t model_species);
  /// To be called when ties have come or gone.
  void ties_changed();
  /// u and molality from lambda at the activity coefficients in use.
  void evaluate_species();
  void assemble_balances();
  [[nodiscard]] double largest_residual() const;
  /// Activity coefficients at the present molalities, without moving anything.
  void update_activity(ActivityOf wanted = ActivityOf::values);
  /// Their derivatives, where they were not asked for.
  void update_slopes();
  /// Balances and activity equations at the present place; the largest of what they lack.
  double find_lack(ActivityOf wanted = ActivityOf::values);
  /// Which balances stand for those of hydrogen and of electrons, for the least rounding.
  void choose_balances();
  void choose_acid_balance();
  /// Coefficient of species i in free balance f.
  [[nodiscard]] double in_balance(std::size_t i, std::size_t f) const {
    if (f == hydrogen) return by_charge ? chemistry->charge[i] : acid[i];
    return f == valence.place ? valence.electrons[i] : reduced[i * ties.free().size() + f];
  }
  [[nodiscard]] double balance_total(std::size_t f) const {
    if (by_charge && f == hydrogen) return 0;
    return f == valence.place ? valence.total : reduced_totals[f];
  }
  /// ln(P / N) of the charge at the present molalities.
  [[nodiscard]] double charge_imbalance() const;

  // Solids (solids.cpp).
  bool tie_phase(std::size_t phase);
  void find_amounts();  // NaN where they cannot be told
  /// Lets one go; which, or kNone when none is below `tolerance`.
  std::size_t drop_worst(double tolerance);
  bool add_worst(double tolerance);
  /// Gives traces of solids to balances that do not drown them. False when nothing has changed.
  bool tie_anew();
};

}  // namespace aeruca::detail
