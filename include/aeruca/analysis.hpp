#pragma once

/// \file
/// From what a laboratory writes to what a solver takes: readings in mg/L or mmol/L, alkalinity as
/// titrated, a potential against a reference electrode, a conductivity; out come totals in mol per
/// kilogram of water, the water at equilibrium, and what had to be assumed. The command line,
/// Python and a case all go through here, so that one analysis has one answer.
///
/// Words. A *reading* is a number as a laboratory writes it: `640`, `640 +/- 30`, or `< 5` for
/// below the detection limit. An *amount* is a reading with its unit. *Alkalinity* is the acid a
/// litre takes to the end point near pH 4.4, where carbonate has become CO2(aq).
///
/// Litres and kilograms. With dissolved masses a (kg/L, from amounts per litre), b (kg per kg of
/// solution, from mg/kg and g/kg) and c (kg per kg of water, from mol/kg), a litre of density rho
/// holds  W = (rho - a - b rho) / (1 + c)  kg of water. Without a density W is that of a litre of
/// pure water at the temperature: right to 0.1 % for fresh water, 1.2 % too much water for sea
/// water; this is said among `assumed`.
///
/// Alkalinity. The total carbonate is raised or lowered until the species answer the titration,
///   Alk = sum_i m_i (2 c_i - h_i),
/// c_i the carbonate and h_i the H(+) of species i in the components of the data set: HCO3(-) 1,
/// CO3(2-) 2, OH(-) 1, H(+) -1, Cu(CO3)2(2-) 4. At given pH this is linear in the total carbonate
/// but for ion pairing, so that repeated scaling converges in a few rounds (1e-9 relative). What
/// acetate and other weak acids take at the end point is not counted.
///
/// Charge. error = (cations - anions) / (cations + anions), in equivalents of the species at
/// equilibrium; within 5 % is usual for a complete analysis (the rule of practice). It is reported,
/// and assigned to an ion only when one is named.
///
/// Conductivity at 25 degrees C (S/m = mol/m3 times S m2/mol): kappa = sum_i |z_i| lambda_i c_i,
/// with
///   lambda_i = lambda0_i - (A |z_i| + B |z_i| z' lambda0_i) sqrt(I) / (1 + 1.5 sqrt(I)),
/// z' = sum z^2 c / sum |z| c over the ions of the other sign, c and I in mol per litre: Onsager's
/// law for ions of a size (Robinson and Stokes 1965, Electrolyte Solutions, chapter 7; A = 30.1e-4
/// S m2/mol and B = 0.229 per (mol/L)^0.5, recalled), one size of 4.6e-10 m for all, 1.5 per
/// (mol/L)^0.5. A litre is taken to hold 0.997 - 0.02 I kg of water (0.01 short of right at most).
/// Range and accuracy, by the product Z of the mean charges z' of both sides (1 in sodium chloride,
/// 1.3 in sea water, 2 in calcium chloride or sodium carbonate, 4 in magnesium sulfate):
///   Z up to 1.5, I up to 1 mol/kg       5 %; 2 % for potassium chloride against the standards of
///                                       Pratt, Koch, Wu and Berezansky 2001 (Pure Appl. Chem. 73,
///                                       1783) at 0.01, 0.1 and 1 mol/kg, 3 % for sea water
///   Z up to 2.1, I up to 1 mol/kg; above, I up to 0.1       10 %
/// and beyond these it is not computed.
///
/// Errors. An amount, unit, ion or electrode that is not accepted throws InputError or UnknownName;
/// what contradicts itself or would have no effect throws InputError; a water without an answer is
/// a status in the result.

#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// A measured figure. Exactly one of the three forms holds: not given, a value, below a limit.
struct Reading {
  double value = kNotGiven;        ///< as measured; NaN when not given or below the limit
  double uncertainty = kNotGiven;  ///< one standard uncertainty, same unit; NaN: not stated
  double below = kNotGiven;        ///< detection limit when the reading lies below it
  [[nodiscard]] bool given() const { return !std::isnan(value) || !std::isnan(below); }
  [[nodiscard]] bool detected() const { return !std::isnan(value); }
};

/// Reads `640`, `640 +/- 30`, `< 5`. Empty when the text is none of them or a figure is negative.
[[nodiscard]] std::optional<Reading> parse_reading(std::string_view text);
/// The text that `parse_reading` reads back; "not given" when nothing is.
[[nodiscard]] std::string to_string(const Reading& reading);

/// A reading and its unit, one of `amount_units()`.
struct Amount {
  Reading reading;
  std::string unit;
};

/// Units of an amount. Per litre: mol/L, mmol/L, umol/L, meq/L, g/L, mg/L, ug/L. Per kilogram of
/// water: mol/kg, mmol/kg, umol/kg. Per kilogram of the solution: g/kg, mg/kg, ug/kg, ppm (which is
/// mg/kg). An alkalinity may add what it is written as: "mg/L as CaCO3"; bare, mg/L is as HCO3(-).
[[nodiscard]] const std::vector<std::string>& amount_units();
/// Whether a unit is one of them, with "l" for "L" and the micro sign for "u".
[[nodiscard]] bool is_amount_unit(const std::string& unit);

/// Reads `640 mg/L`, `640 +/- 30 mg/L`, `< 5 mg/L`, and `1e-3` with an empty unit. Empty when the
/// text is no reading followed by at most one unit after a space; whether the unit exists is not
/// looked at.
[[nodiscard]] std::optional<Amount> parse_amount(std::string_view text);

/// The same, or InputError naming `parameter` and what is accepted; a number without a unit is
/// refused.
[[nodiscard]] Amount amount_from(std::string_view text, const std::string& parameter);
/// `parse_reading`, or InputError naming `parameter` and what is accepted.
[[nodiscard]] Reading reading_from(std::string_view text, const std::string& parameter);

/// One ion or other ingredient and how much of it was found.
struct AnalysedIon {
  std::string name;  ///< a laboratory's word (`chloride`, `sulfate`, `calcium`), or any species or
                     ///< solid of the data set (`Cl(-)`, `halite`), or the plain formula of an ion
                     ///< (`SO4`). `bicarbonate` and `carbonate` are titrated and count as
                     ///< alkalinity; `HCO3(-)` and `CO3(2-)` are the total carbonate.
  Amount amount;
};

/// One water as analysed. Everything is optional but what the question needs.
struct WaterAnalysis {
  std::vector<AnalysedIon> ions;
  Amount alkalinity;                   ///< as titrated; not beside `bicarbonate` or `carbonate`
  Reading ph;                          ///< -2 to 16; uncertainty not stated: 0.1
  std::optional<double> potential_mv;  ///< as read (mV)
  std::optional<double> potential_uncertainty_mv;  ///< one standard uncertainty; absent: 20
  std::string reference_electrode;   ///< id of the data set ("ag-agcl-3m"); empty: hydrogen
  std::optional<double> oxygen_bar;  ///< held, in place of a potential; 0.21 is air
  std::map<std::string, double> held_gas_bar;    ///< other gases held, such as `CO2(g)` 4.2e-4
  double temperature_c = 25;                     ///< 0 to 50 degrees C
  std::optional<double> density_kg_per_l;        ///< of the water as analysed; used with litres
  std::optional<double> conductivity_us_per_cm;  ///< at 25 degrees C; compared with the ions found
  std::string charge_assigned_to;  ///< ion that takes up the imbalance of charge; empty: none

  /// Reading of an ion by its name as written; one that is not given where it is not there.
  [[nodiscard]] Reading reading_of(std::string_view name) const;
};

/// A potential on the hydrogen scale and how it came there.
struct HydrogenPotential {
  double eh_v = 0;
  double uncertainty_v = 0;  ///< reading, electrode and its drift away from 25 degrees C
  /// "85 mV against silver/silver chloride ..., which stands 0.21 V above hydrogen"
  std::string said;
  std::string figure;  ///< id of the electrode's figure; empty when read against hydrogen
};
/// Of an analysis with `potential_mv`. Throws UnknownName for an electrode the data set lacks.
[[nodiscard]] HydrogenPotential hydrogen_potential(const WaterAnalysis& analysis,
                                                   const Dataset& dataset);

/// The ids of the reference electrodes of a data set.
[[nodiscard]] std::vector<std::string> reference_electrodes(const Dataset& dataset);

/// The words a laboratory may use for the ions of a data set, in the order of its components.
[[nodiscard]] std::vector<std::string> ion_words(const Dataset& dataset);
/// Species or solid meant by a name of `AnalysedIon::name`. Throws UnknownName with the nearest.
[[nodiscard]] std::string ingredient_named(std::string_view name, const Dataset& dataset);

/// What a solver takes, and what had to be assumed to get there.
struct AnalysedWater {
  WaterAnalysis analysis;  ///< as given
  EquilibriumOptions options;
  /// Totals in mol/kg(water); the carbonate of an alkalinity only as a start
  EquilibriumInput input;
  std::optional<double> alkalinity_mol_per_kg;  ///< as titrated, in equivalents per kg of water
  std::optional<HydrogenPotential> potential;
  double water_kg_per_l = kNotGiven;  ///< kilograms of water in a litre, where litres were given
  std::string charge_assigned_to;     ///< species that takes up the imbalance of charge; or empty
  /// Words of the major ions that were not given: taken as absent
  std::vector<std::string> missing;
  std::vector<std::string> below_limit;  ///< names below their detection limit, taken as absent
  std::vector<std::string> at_limit;     ///< ... or taken at it: what follows is "at most" (copper)
  std::vector<std::string> set_aside;  ///< names left out, for their form hangs on a potential that
                                       ///< is not given
  std::vector<std::string> assumed;    ///< sentences
  std::vector<std::string> figures;    ///< ids of the figures used (the electrode)
};

/// Sets temperature, components and, unless it is `conserved`, the redox of `options` from the
/// analysis, and turns every amount into mol per kg of water. Without a potential and without
/// oxygen the ions whose form depends on it (copper) are set aside. Throws InputError and
/// UnknownName.
[[nodiscard]] AnalysedWater analyse(const WaterAnalysis& analysis, const Dataset& dataset,
                                    EquilibriumOptions options = {});

/// Cations and anions in equivalents (mol of charge) per kg of water.
struct ChargeBalance {
  double cations = kNotGiven;
  double anions = kNotGiven;
  double error_percent = kNotGiven;  ///< (cations - anions) / (cations + anions) as analysed
  double assigned_mol_per_kg = 0;    ///< added to the ion that takes it up (negative: taken away)
};

/// A conductivity at 25 degrees C, from the ions found.
struct Conductivity {
  double us_per_cm = kNotGiven;      ///< NaN where it is not computed: `said` has the reason
  double uncounted_percent = 0;      ///< of the charge, on ions without a figure
  std::string said;                  ///< one sentence on how far it holds, or why there is none
  std::vector<std::string> figures;  ///< ids of the limiting conductivities used
};
/// Of the species of a converged result.
[[nodiscard]] Conductivity conductivity_of(const EquilibriumResult& result, const Dataset& dataset);

/// A water at equilibrium that answers its analysis.
struct SolvedWater {
  AnalysedWater water;       ///< its totals are those of the answer, carbonate and charge included
  EquilibriumResult result;  ///< its warnings say where readings contradict each other
  ChargeBalance charge;      ///< before any solid forms, as the laboratory found it
  double alkalinity_mol_per_kg = kNotGiven;  ///< ... as well
  Conductivity conductivity;                 ///< ... as well
  /// Standard uncertainty of each saturation index: pH, potential, alkalinity and every ion moved
  /// by one of its own in turn, in quadrature with the constants: of the solid, of what is
  /// dissolved by its share, of solids and gases held; what they owe to one figure adds with its
  /// sign. Not those of the activity model. Not stated, 0.1 of pH, 20 mV and 5 % of an amount are
  /// taken, but a total in mol per kg of water is exact. Empty where nothing was measured: only
  /// such totals and no uncertainty stated.
  std::map<std::string, double> index_uncertainty;
};

/// Solves for the total carbonate that answers the titration, and for the ion that takes up the
/// charge where one is named, both before any solid forms; then lets the allowed solids form. With
/// CO2(g) held the carbonate follows from it, and a titrated alkalinity is compared. Infeasible,
/// with the reason, where pH and alkalinity contradict each other.
[[nodiscard]] SolvedWater solve(const AnalysedWater& water,
                                const std::shared_ptr<const Dataset>& dataset);

}  // namespace aeruca
