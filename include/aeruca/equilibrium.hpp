#pragma once

/// \file
/// What a water holds at equilibrium: dissolved species, solids that form, gases it is open to.
///
/// Words. *Component*: one of the building blocks H2O, H(+), e(-), Cu(2+), Cl(-) ... of the data
/// set. *Potential* (lambda): ln activity of a component. *Certificate*: figures, computed from the
/// bare answer apart from the solver, that prove it. *Ingredient*: what was weighed in; any
/// species, solid or gas.
///
/// For fixed activity coefficients the problem is convex in the potentials:
///   minimise  w sum_i exp(a_i . lambda - g_i) - b . lambda   subject to  a_s . lambda <= g_s
/// for every pure phase s allowed to form; the amounts of the phases are the multipliers (the dual
/// of the Gibbs energy; for example Boyd and Vandenberghe 2004, Convex Optimization, chapter 5). A
/// fixed pH, Eh or gas fugacity fixes or ties components of lambda. A feasible active-set Newton
/// method finds that answer from nothing; activity coefficients then enter by a full Newton with
/// their derivatives, and, where a model far outside its range has the straight way fold, along the
/// curve of answers. No previous answer is used, so results do not depend on the order of a batch.
///
/// Several answers. An activity model that is not convex, and hydrates, which bind water, may let
/// more than one solution fulfil the equations. An answer is stable: the second derivatives of the
/// Gibbs energy of the solution are positive over electroneutral changes, and its water activity is
/// at most 1 (both in the certificate). Where the first one found is not, or is nearly unstable, or
/// is about as rich as a hydrate that may form, the one that continues from dilution is sought too,
/// and the stable one of lowest Gibbs energy is given; with `Starts::several` always, from four
/// starts. The certificate says from how many starts it was sought, how many answers differ, and how
/// far the next lies above: no proof that there is no other. Without a stable answer the status is
/// `unstable`: outside its range a model may have none. `infeasible` is proven, by figures checked apart from the solver, where balances
/// cannot hold or a solid would form without end. So it is where pH, Eh and gases ask for more than
/// 1000 mol/kg of an ideal solution; with another activity model that is no proof, for its
/// coefficients have no bound there, and the message says that it speaks of an ideal solution.
///
/// What is and is not balanced. Every component but water: the solvent is 1 kg whatever reactions
/// or hydrates take or give, so water bound in solids is not taken from it (10 mol/kg of a hydrate
/// with 5 H2O would be 0.9 kg of water: then give amounts per kilogram of what is left). H(+) is
/// not balanced when the pH is given, e(-) not with Eh or oxygen, a component of a held gas not at
/// all.
///
/// Water activity held (`Solvent::water_activity`), as in air of that relative humidity over 100 %:
/// water comes and goes until the solution has it. What was weighed in is given per kilogram of
/// water as before and stays; molalities, ionic strength and charge are per kilogram of the solvent
/// that is then present, `solvent_kg` for each kilogram given. More water dilutes, so ln a(H2O)
/// rises with the amount of water, but stands still where solids take up what is lost; the root is
/// sought over ln(solvent) and held to 1e-9 in the certificate (`activity_error`). Where all has
/// dried to solids before, or what is held lowers the water activity below the one asked for
/// whatever the amount of water, there is no answer (`infeasible`) and the message says where it
/// ended. Not held at exactly the activity of a saturated solution: any amount of water has it.
///
/// Redox. With `Redox::eh` dissolved oxygen and hydrogen are no part of the solution (outside the
/// field of water their molality has no meaning; their fugacity is reported). With the Eh given and
/// the pH free charge rises with acidity in all but odd systems; where it does not, several answers
/// may exist and one of them is returned.
///
/// Refused. A component that is present and whose acid or base is named but has no constant (none in
/// the data set of the library), unless named in `inert`: InputError. An
/// answer that rests on parameters the model lacks and estimates (activity.hpp), where the estimate
/// leaves the activity of an ion that holds 1 % of some component, or is at 0.1 mol/kg itself, open
/// by more than a factor of ten: by the status `no_parameters` and the pairs in the message. Above
/// 12 % a warning names the pairs and what they leave open. Complexes that the parameters of the
/// model contain are no part of the solution and a remark names them.
///
/// Validity: 0 to 50 degrees C, 1 bar; ionic strength as the activity model allows, above which the
/// answer carries a warning, as it does when the model puts the water activity above 1. Accuracy of
/// the solution of the equations: 1e-9 relative, proven by the certificate; of the answer: that of
/// the constants, tenths of a log unit for many copper species. Degenerate cases: a component whose
/// total is 0 takes its species with it (molality 0); of solids that can replace each other (the
/// same composition and constant, or an assemblage at an invariant point) one choice of amounts is
/// reported and `degenerate` names them; on a boundary an amount may be 0 with a saturation index
/// of 0. Speed, per water in a batch: 1 (ideal) to 7 microseconds (SIT, solids), alone 7 to 25;
/// where the pH follows from the charge 2 to 10, alone 20 to 90. Equilibrium says what is possible,
/// not how fast.

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "aeruca/activity.hpp"
#include "aeruca/dataset.hpp"
#include "aeruca/equilibrium_rows.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// The electrons: how oxidising the water is.
enum class Redox {
  eh,        ///< EquilibriumInput::eh_v is given
  oxygen,    ///< fugacity of O2(g) is given in EquilibriumInput::oxygen_bar
  conserved  ///< from the totals: copper by valence (`Cu(+)`, `Cu(2+)`, `copper`), oxygen as
             ///< `O2(aq)`
};

/// Where the pH comes from.
enum class Acidity {
  given_ph,       ///< EquilibriumInput::ph
  charge_balance  ///< it makes the water neutral
};

/// Whether solids may form.
enum class Precipitation { none, allowed };

/// How much water there is.
enum class Solvent {
  one_kg,         ///< 1 kg
  water_activity  ///< as much as has EquilibriumInput::water_activity
};

/// From how many starts an answer is sought.
enum class Starts {
  as_needed,  ///< one, and others where that fails or another answer may exist
  several     ///< always from nothing, from dilution, from concentration and from the ideal answer
};

/// "eh", "oxygen" or "conserved".
[[nodiscard]] std::string_view to_string(Redox redox);
/// "given_ph" or "charge_balance".
[[nodiscard]] std::string_view to_string(Acidity acidity);
/// "none" or "allowed".
[[nodiscard]] std::string_view to_string(Precipitation precipitation);
/// "one_kg" or "water_activity".
[[nodiscard]] std::string_view to_string(Solvent solvent);
/// "as_needed" or "several".
[[nodiscard]] std::string_view to_string(Starts starts);
/// Of those words; each throws InputError that lists what it accepts.
[[nodiscard]] Redox redox_from(std::string_view name);
[[nodiscard]] Acidity acidity_from(std::string_view name);
[[nodiscard]] Precipitation precipitation_from(std::string_view name);
[[nodiscard]] Solvent solvent_from(std::string_view name);
[[nodiscard]] Starts starts_from(std::string_view name);

/// Which system is solved; made once, used for many waters.
struct EquilibriumOptions {
  ActivityModel activity = ActivityModel::sit;
  double temperature_c = 25;
  Redox redox = Redox::eh;
  Acidity acidity = Acidity::given_ph;
  Solvent solvent = Solvent::one_kg;
  Starts starts = Starts::as_needed;
  /// That may be present besides water, H(+), e(-); empty: all.
  std::vector<std::string> components;
  Precipitation precipitation = Precipitation::none;
  /// Solids that may form where precipitation is allowed; empty: every solid of the components.
  std::vector<std::string> allowed_solids;
  std::vector<std::string> left_out;  ///< species or solids left out by name
  /// Components to be counted as ions only though their acid or base has no constant in the data
  /// set (Dataset::without_proton_partner); they are refused otherwise.
  std::vector<std::string> inert;
  int iteration_limit = 400;
  int threads = 0;  ///< of `solve_many`; 0: as many as the machine has, 1: none besides the
                    ///< caller's. 0 to 256
  MissingEnthalpy missing_enthalpy = MissingEnthalpy::estimate;
};

/// One water, per kilogram of water. Needed but absent, or given where it has no use: InputError.
struct EquilibriumInput {
  /// mol per kg water by ingredient: any species or solid of the data set (`Cu(2+)`, `nantokite`,
  /// `halite`).
  std::map<std::string, double> totals_mol_per_kg;
  std::optional<double> ph;          ///< -log10 a(H(+)), -2 to 16; with Acidity::given_ph
  std::optional<double> eh_v;        ///< V against the standard hydrogen electrode, -2 to 2; with
                                     ///< Redox::eh
  std::optional<double> oxygen_bar;  ///< above 0 to 1000 bar; with Redox::oxygen
  /// gases held at a fugacity, such as `CO2(g)` 4.2e-4
  std::map<std::string, double> fugacity_bar;
  std::optional<double> water_activity;  ///< above 0, below 1; with Solvent::water_activity
};

/// Proof that an answer is one. All relative figures are dimensionless.
struct Certificate {
  double mass_balance = 0;     ///< largest |sum - total| / (sum of absolute contributions)
  double charge_balance = 0;   ///< |sum z n| / sum |z| n; counted only when the pH follows from it
  double supersaturation = 0;  ///< largest ln(saturation) left among allowed phases (<= 0 is none)
  double smallest_phase = 0;   ///< smallest amount of a phase present, mol per kg; never negative
  /// Relative gap of the convex problem at the final activity coefficients
  double duality_gap = 0;
  double activity_error = 0;  ///< largest change in ln activity left by the activity model
  /// Smallest eigenvalue of the second derivatives of the Gibbs energy of the solution over
  /// electroneutral changes, scaled to 1 where ideal; a lower bound of it above 0.5; a solution
  /// below 0 would fall apart
  double stability = 1;
  double water_activity = 0;  ///< of the solution; above 1 the model has no meaning
  int iterations = 0;
  int starts = 1;  ///< ways from which an answer was sought
  int answers =
      1;  ///< stable answers among what they found that differ; the lowest in Gibbs energy
          ///< is the one given
  /// How far the next of them lies above it, mol RT per kg of water given; NaN where there is none
  double next_answer = kNotGiven;
  /// True when every figure is within its bound (mass, charge, gap, activity 1e-9; supersaturation
  /// 1e-8; stability above 0; water activity up to 1).
  [[nodiscard]] bool holds() const;
};

struct EquilibriumResult {
  Status status = Status::iteration_limit;  ///< `converged` only when the certificate holds
  std::string message;                      ///< one sentence; empty when all is well
  Certificate certificate;
  std::vector<std::string> species;  ///< dissolved species
  std::vector<double> molality;      ///< mol/kg
  std::vector<double> log10_molality;
  std::vector<double> log10_activity;
  std::vector<std::string> allowed_solids;
  std::vector<double> solid_mol_per_kg;  ///< by allowed solid, per kg water given; 0 when absent
  /// Solids that could stand for each other in other amounts beside the same solution; empty: the
  /// answer is unique
  std::vector<std::string> degenerate;
  /// log10, every solid of the components in the data set
  std::map<std::string, double> saturation_index;
  std::vector<std::string> gases;
  std::vector<double> log10_fugacity;  ///< bar
  double ph = 0, pe = 0, eh_v = 0;
  double ionic_strength = 0;  ///< mol/kg
  double water_activity = 0;
  double charge_mol_per_kg = 0;  ///< sum z m; nonzero when the pH was given
  double solvent_kg = 1;  ///< water present per kg given; 1 unless the water activity was held
  /// Range of the activity model, missing enthalpies, unstable water
  std::vector<std::string> warnings;
  /// What the activity model assumes and estimates, for the whole system
  std::vector<std::string> remarks;
  std::vector<std::string> figures;  ///< ids of the constants used
  /// Away from 25 degrees C: what carries 1 % or more of a dissolved component, or has formed, by a
  /// constant that rests on an estimated heat; the rest are in Equilibrium::estimated_heats
  std::vector<std::string> estimated_heats;

  /// The allowed solids that formed, mol per kg water.
  [[nodiscard]] std::map<std::string, double> formed() const;
  /// Molality of one species. Throws UnknownName.
  [[nodiscard]] double molality_of(std::string_view name) const;
  /// Throws Error with `message` unless converged and certified.
  void raise_if_failed() const;
};

/// A prepared system of species and phases. Immutable; `solve` may run on many threads.
class Equilibrium {
 public:
  /// Throws UnknownName and InputError.
  Equilibrium(std::shared_ptr<const Dataset> dataset, EquilibriumOptions options);
  ~Equilibrium();
  Equilibrium(Equilibrium&& other) noexcept;
  Equilibrium& operator=(Equilibrium&& other) noexcept;

  /// Throws InputError for a total that is not 0 or 1e-30 to 1000 mol/kg, a pH outside -2 to 16, an
  /// Eh outside -2 to 2 V, one of these absent though needed or given though not used, a water
  /// activity held where nothing was weighed in that could lower it, an ingredient outside the
  /// chosen components; UnknownName for an ingredient or gas that does not exist. No answer is a
  /// status, not an exception.
  [[nodiscard]] EquilibriumResult solve(const EquilibriumInput& input) const;

  [[nodiscard]] const EquilibriumOptions& options() const;
  [[nodiscard]] const std::vector<std::string>& species() const;
  [[nodiscard]] const std::vector<std::string>& allowed_solids() const;
  /// Species and solids whose constant at this temperature rests on an estimated heat
  /// (Dataset::rests_on_estimate); none at 25 degrees C
  [[nodiscard]] const std::vector<std::string>& estimated_heats() const;

  using Batch = EquilibriumBatch;
  /// The same system for n waters at once, results by column. NaN in a row, NaN out (status
  /// infeasible). Throws as `solve`, naming the row (of rows of several temperatures the first
  /// wrong one of the lowest), and UnknownName or InputError for a choice of columns that the
  /// system does not have. Answers depend neither on the order of the waters nor on the number of
  /// threads, to the last bit. When `stop` is asked for, the rows not yet solved are left without
  /// an answer, status iteration_limit.
  [[nodiscard]] Batch solve_many(const EquilibriumRows& given, const BatchChoice& choice = {},
                                 const std::stop_token& stop = {}) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace aeruca
