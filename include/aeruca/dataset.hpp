#pragma once

/// \file
/// The data set: species, reactions, interaction coefficients, salts, onset bands and their
/// sources.
///
/// Names. Species are written as chemists print them in one line with the charge in parentheses:
/// `Cu(2+)`, `CuCl2(-)`, `Cu(OH)4(2-)`, `HCO3(-)`, `Cu(OH)2(aq)`; solids by mineral or trivial name
/// in lower case (`nantokite`, `copper`); gases `CO2(g)`; water `H2O`; the electron `e(-)`.
///
/// Basis. At load every reaction is reduced to the formation of each species from the components
///   H2O, H(+), e(-), Cu(2+), Cl(-), Na(+), K(+), Mg(2+), Ca(2+), CO3(2-), SO4(2-), NO3(-), ...
/// so that
///   ln(activity) = ln(10) log10_k + sum_j components[j] ln(activity of component j)
/// holds for a dissolved or gaseous species at equilibrium (molality or bar), and
///   ln(saturation) = that right-hand side  for a solid.
/// Standard states: 25 degrees C, 1 bar; infinite dilution on the molal scale for what is
/// dissolved, the pure phase for solids and water, 1 bar of ideal gas for gases; e(-) by the
/// convention that H(+) + e(-) = 1/2 H2(g) has log10 K = 0 at every temperature.
///
/// Temperature. Van 't Hoff with a constant heat capacity of reaction (T0 = 298.15 K):
///   log10 K(T) = log10 K(T0) + [dH (1/T0 - 1/T) + dCp (ln(T/T0) + T0/T - 1)] / (R ln 10)
/// dH and dCp from the figure of the reaction, else from chosen formation values of its species,
/// else *estimated*: the reaction is written isocoulombic, that is with as many ionisations of
/// water W as make the charges of each sign equal on both sides, and then has no entropy but that
/// of its gases, and no heat capacity. For n charges of each sign that the reaction as recorded
/// makes, and g mol of gas:
///   dH  = -R T0 ln 10 (log10 K - n log10 K_W) + n dH_W + g T0 95 J/(mol K)  +/- 20 + 10 |n| kJ/mol
///   dCp = n dCp_W            +/- 90 J/(mol K) for each of n, for each half mole of g, and no less
/// An electron counts as half a mole of H2(g) less H(+), as its convention says, and its half mole
/// of gas as none. Of 87 reactions of this data set whose heat was found the rule meets 71 within
/// its uncertainty and 83 within twice that (the rest: crystals of seven to ten waters, tin(IV)).
/// Estimates are figures like any other, `basis` estimated, ids ending in ".rule". Range 0 to 50
/// degrees C. Without OH(-) in the data set nothing can be estimated and the enthalpy is NaN.
///
/// Uncertainty. Each constant is a sum of coefficient times figure (`constant_terms`), its enthalpy
/// and heat capacity likewise; at a temperature the three are one sum (`Dataset::terms_at`). The
/// standard uncertainty is the root of the summed squares: it grows with the distance from 25
/// degrees C by 0.030 per 10 kJ/mol at 20, 0.084 at 40, 0.136 at 50. In a reaction between two
/// species a figure that both rest on counts once, with its sign. A figure without a stated
/// uncertainty counts as exact, and what uses it says so. What one figure says of trust:
///
/// | basis     | the figure was                                | to be trusted as                 |
/// |-----------|-----------------------------------------------|----------------------------------|
/// | looked-up | read in its source, or in a summary of it     | the source                       |
/// | memory    | recalled from the named source and not seen   | a hint: check it before printing |
/// | derived   | calculated here from others, `place` says how | the weakest of its inputs        |
/// | estimated | not found: by a rule stated here or in `place`| its uncertainty, no further      |
///
/// Where sources disagree all stand as figures, and one is `chosen` with a reason.
///
/// Activity coefficients. Interaction coefficients and Pitzer parameters are figures like any
/// other; the equations they belong to stand in `activity.hpp`, those of a salt's solubility in
/// `brine.hpp`.
///
/// Checks at load (FileError with file, line, record and field):
///   names and keys      each species, figure and source that is named exists, and has one record
///   ranges              temperatures 0 to 50 degrees C or as the field says; uncertainties above 0
///   balance             every reaction and dissolution, in mass and in charge, exactly
///   closed cycles       a chosen constant that also follows another way (reduced constants, chosen
///                       formation energies) agrees within 3 combined standard uncertainties or
///                       `closure_tolerance` of the data, whichever is more
///   choice              at most one chosen figure of a quantity; exactly one chosen set of a pair
///
/// Degenerate cases. A species named only so that equations balance (`constant_from = "none"`) is
/// in no calculation and not in `Dataset::species`. Extending replaces records of the same key as a
/// whole; what was derived from them moves with them and is checked again.

#include <map>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "aeruca/mineral_records.hpp"
#include "aeruca/provenance.hpp"

namespace aeruca {

namespace detail {
struct Records;
}

/// What a species is: it decides which activity its molality or presence gives.
enum class PhaseKind {
  aqueous,  ///< dissolved: activity = gamma molality, mol/kg
  solid,    ///< a pure phase: activity 1 where it is there
  gas,      ///< fugacity in bar, equal to the partial pressure below a few bar
  solvent,  ///< water: activity 1 when pure
  electron  ///< activity 10^-pe
};

/// "aqueous", "solid", "gas", "solvent" or "electron".
[[nodiscard]] std::string_view to_string(PhaseKind kind);

/// A chemical species or pure phase, its constant normalised to the component basis.
struct Species {
  std::string name;     ///< `CuCl2(-)`, `nantokite`, `CO2(g)`
  std::string formula;  ///< `CuCl2`, `CuCl`, `CO2`, without the charge
  std::string title;    ///< "dichlorocuprate(I)"
  PhaseKind kind = PhaseKind::aqueous;
  int charge = 0;
  double molar_mass_g_per_mol = 0;
  std::vector<std::pair<std::string, double>> elements;  ///< element symbol, atoms per formula
  std::vector<double> components;  ///< coefficients over Dataset::components()
  double log10_k = 0;              ///< formation from the components, 25 degrees C, I = 0
  double log10_k_uncertainty = 0;  ///< one standard uncertainty as stated by the sources, combined
  double enthalpy_kj_per_mol = 0;  ///< of the same reaction; NaN: not known
  double heat_capacity_j_per_mol_k = 0;  ///< of the same reaction; NaN: not known (taken as 0)
  double density_g_per_cm3 = 0;          ///< NaN: not known
  std::string slow_to_form;              ///< reason it is often left out; empty if it forms readily
  std::string proton_partner;  ///< acid or base a component turns into between pH -2 and 16, a name
                               ///< that the data set may lack; empty: none
  std::string colour;          ///< of the mineral, in words and as "#rrggbb" after a space
  /// Ids of the figures its constant and enthalpy rest on, and its heat capacity but for estimates
  std::vector<std::string> figures;
  /// log10_k as a sum of coefficient times figure value, by figure id: what is correlated shares an
  /// id.
  std::vector<std::pair<std::string, double>> constant_terms;
  /// enthalpy_kj_per_mol likewise; empty where it is not known.
  std::vector<std::pair<std::string, double>> enthalpy_terms;
  /// heat_capacity_j_per_mol_k likewise.
  std::vector<std::pair<std::string, double>> heat_capacity_terms;
};

/// What to do away from 25 degrees C with a species or solid whose enthalpy was not found. An
/// estimate is the default: 20 to 40 kJ/mol of doubt are 0.06 to 0.1 log units at 20 degrees C, 0.2
/// to 0.3 at 40, which a bath or a burial can live with and a refusal cannot; the result names what
/// rests on it, and every uncertainty holds it.
enum class MissingEnthalpy {
  refuse,     ///< InputError that names them; leave them out by name to go on
  leave_out,  ///< left out, with that as the reason
  estimate    ///< by the rule above, with its uncertainty. Where the rule says nothing (NaN):
              ///< InputError that names them
};

/// "refuse", "leave_out" or "estimate".
[[nodiscard]] std::string_view to_string(MissingEnthalpy choice);
/// Throws InputError that lists the three.
[[nodiscard]] MissingEnthalpy missing_enthalpy_from(std::string_view name);

/// Specific-ion interaction coefficient of a pair, kg/mol at 25 degrees C: ions of opposite charge,
/// usually -0.2 to 0.4, recommended sets good to 0.01 to 0.05.
struct SitCoefficient {
  std::string cation, anion;
  double value = 0;
  double uncertainty = 0;
  std::string figure;  ///< id of its figure
  bool chosen = false;
  /// Complexes of the two ions that stand as species beside this value; it contains the others
  std::vector<std::string> complexes = {};
};

/// Pitzer parameters of one cation-anion pair, in kg/mol (c_phi: kg2/mol2) and kg^0.5/mol^0.5
/// (alpha); missing ones are zero. With their derivatives, for t = T - 298.15 K:
///   beta(T) = beta + beta_per_k t + beta_per_k2 t^2
struct PitzerBinary {
  std::string id;             ///< "Na-Cl:HMW84"
  std::string cation, anion;  ///< `Na(+)`, `Cl(-)`
  double beta0 = 0, beta1 = 0, beta2 = 0, c_phi = 0;
  double alpha1 = 2, alpha2 = 12;
  double beta0_per_k = 0, beta1_per_k = 0, beta2_per_k = 0,
         c_phi_per_k = 0;  ///< d/dT at 25 C; NaN: not known
  double beta0_per_k2 = 0, beta1_per_k2 = 0,
         c_phi_per_k2 = 0;  ///< half the second derivative, for sets that state one
  double temperature_min_c = 25,
         temperature_max_c = 25;   ///< where the set, with its derivatives or held constant, was
                                   ///< shown to hold at saturation
  double molality_max = 0;         ///< highest molality of the fit, mol/kg; NaN: not stated
  double osmotic_uncertainty = 0;  ///< absolute, of phi within the range; NaN: not stated
  bool chosen = false;             ///< the set used for this pair unless another is asked for
  std::string reason;              ///< why chosen or kept
  std::string source;
  Basis basis = Basis::memory;
  std::string check;  ///< how the set reproduced its own published table
  /// Complexes of the two ions that stand as species beside this set; it contains the others
  std::vector<std::string> complexes = {};
  /// Of a set fitted here: names of the fitted fields, and the covariance of their values, the lower
  /// triangle row by row. Empty: what the fit leaves open is not known.
  std::vector<std::string> fitted = {};
  std::vector<double> covariance = {};
};

/// Pitzer mixing parameter of 25 degrees C: theta(i,j) of two ions of one sign (kg/mol), psi(i,j,k)
/// of those with one of the other sign (kg2/mol2), lambda(neutral,i) and zeta(neutral,i,j). Values
/// are 0.0001 to 0.2; they matter above about 1 mol/kg.
struct PitzerMixing {
  std::string type;  ///< "theta", "psi", "lambda", "zeta"
  std::vector<std::string> species;
  double value = 0;
  std::string source;
  Basis basis = Basis::memory;
  std::string check;
};

/// A soluble salt: how it dissolves and how much of it does.
struct Salt {
  std::string solid;                                 ///< `halite`, `bischofite`
  std::string formula;                               ///< `NaCl`, `MgCl2.6H2O`
  std::string anhydrous;                             ///< `NaCl`, `MgCl2`
  std::vector<std::pair<std::string, double>> ions;  ///< `Na(+)` 1, `Cl(-)` 1
  double waters = 0;                                 ///< H2O released per formula
  double molar_mass_g_per_mol = 0;
  double ln_k_25c = 0;     ///< of dissolution, on the Pitzer scale of `pitzer_set`; NaN: not known
  std::string pitzer_set;  ///< id of the PitzerBinary it belongs to
  std::vector<std::pair<double, double>>
      solubility;                              ///< temperature C, mol anhydrous salt per kg water
  double dissolution_enthalpy_kj_per_mol = 0;  ///< infinite dilution; NaN: not known
  double density_g_per_cm3 = 0;
  std::string source;
  Basis basis = Basis::memory;
  /// The saturation humidity was an input of its parameters: no independent test
  bool humidity_in_fit = false;
  std::string note;  ///< what the reader should know of it
};

/// A measured or evaluated deliquescence humidity, kept beside the computed one.
struct MeasuredHumidity {
  std::string solid;
  std::string
      equilibrium;   ///< "deliquescence", "hydration" (`upper/lower`), "mutual" (`one+other`);
                     ///< "crystallisation" of a drying brine, which is no equilibrium
  std::string kind;  ///< "evaluated", "measured", "compiled", "computed"
  double temperature_c = 0;
  double rh_percent = 0;
  double uncertainty_percent = 0;  ///< NaN: not stated
  std::string source;
  Basis basis = Basis::memory;
  std::string note;
  /// Superseded, biased or weak, as its note says; kept, but never put first
  bool doubtful = false;
  double rh_high_percent = 0;  ///< upper end where a range is published; NaN: a single figure
};

/// A published humidity limit for chloride-bearing copper alloys: a band, not a cliff. A single
/// figure of practice ("store below 35 %") gives the low end only.
struct OnsetBand {
  std::string id;  ///< "scott-1990"
  std::string title;
  double low_rh_percent = 0;   ///< at or below: no activity reported
  double high_rh_percent = 0;  ///< at or above: activity expected; NaN: the source names no upper
                               ///< end (never in the chosen band)
  std::string conditions;
  std::string source;
  Basis basis = Basis::memory;
  bool chosen = false;  ///< used for the verdict unless another is asked for
  std::string reason;
  std::string note;
};

/// What stands on the shelf for a bath.
struct BathReagent {
  std::string name;               ///< "sodium carbonate decahydrate (washing soda)"
  std::vector<std::string> also;  ///< other names of it: "washing soda"
  std::string formula;            ///< `Na2CO3.10H2O`
};

/// One way of making a bath salt: a mole of each reagent makes a mole of the salt.
struct ShelfForm {
  std::string name;  ///< "decahydrate"; the names of the first reagent serve as well
  std::vector<BathReagent> reagents;
};

/// A salt that baths are made of.
struct BathSalt {
  std::string name;                                  ///< "sodium carbonate"
  std::vector<std::string> also;                     ///< other names of it
  std::string formula;                               ///< that a strength in percent counts
  std::vector<std::pair<std::string, double>> ions;  ///< of one formula in water: `Na(+)` 2
  std::string saturated_with;  ///< solid left undissolved at room temperature; empty: not known
  double usual_mol_per_l = 0;  ///< of the recipe mistaken for a percentage; NaN: none
  std::vector<ShelfForm> forms;
  std::vector<std::string> cautions;
};

/// A data set, immutable once made; shared freely between threads.
class Dataset {
 public:
  std::string version;                  ///< of the data files
  std::string content_hash;             ///< 16 hexadecimal digits over all files, in name order
  std::vector<std::string> components;  ///< names, in the order of Species::components
  std::vector<Species> species;         ///< components first
  std::vector<Figure> figures;
  std::vector<Source> sources;
  std::vector<SitCoefficient> sit;
  std::vector<PitzerBinary> pitzer;
  std::vector<PitzerMixing> pitzer_mixing;
  std::vector<Salt> salts;
  std::vector<MeasuredHumidity> humidities;
  std::vector<OnsetBand> onset_bands;
  std::vector<BathSalt> bath_salts;
  std::vector<FieldTest> field_tests;
  std::vector<Mineral> minerals;

  /// Position in `species`. Throws UnknownName with the nearest; InputError: known, no constant.
  [[nodiscard]] std::size_t index(std::string_view name) const;
  [[nodiscard]] bool contains(std::string_view name) const;
  [[nodiscard]] const Species& at(std::string_view name) const { return species[index(name)]; }
  /// Position of a component in `components`. Throws UnknownName.
  [[nodiscard]] std::size_t component_index(std::string_view name) const;
  /// Throws UnknownName.
  [[nodiscard]] const Figure& figure(std::string_view id) const;
  [[nodiscard]] const Source& source(std::string_view key) const;
  /// By mineral name, formula or anhydrous formula (`halite`, `NaCl`). Throws UnknownName.
  [[nodiscard]] const Salt& salt(std::string_view name) const;
  [[nodiscard]] const OnsetBand& onset_band(std::string_view id) const;
  /// By name, or another name that is one mineral's alone. Throws UnknownName.
  [[nodiscard]] const Mineral& mineral(std::string_view name) const;

  /// log10 of the formation constant at a temperature, by van 't Hoff with constant heat capacity
  /// of reaction. NaN in, NaN out. Throws InputError outside 0 to 50 degrees C, and away from 25
  /// degrees C when the species has no enthalpy: see `log10_k_known_at`.
  [[nodiscard]] double log10_k(const Species& one, double temperature_c) const;
  /// Its standard uncertainty there, never less than that of log10_k at 25 degrees C. NaN in, NaN
  /// out. Throws as `log10_k`.
  [[nodiscard]] double log10_k_uncertainty(const Species& one, double temperature_c) const;
  /// False when the constant away from 25 degrees C would need an enthalpy the data set lacks and
  /// cannot estimate.
  [[nodiscard]] static bool log10_k_known_at(const Species& species, double temperature_c);
  /// d log10 K / d enthalpy at a temperature, per kJ/mol; 0 at 25 degrees C.
  [[nodiscard]] static double log10_k_per_kj(double temperature_c);
  /// d log10 K / d heat capacity at a temperature, per J/(mol K); 0 at 25 degrees C.
  [[nodiscard]] static double log10_k_per_j_per_k(double temperature_c);
  /// d log10 K / d figure at a temperature (0 to 50 degrees C), by figure id: constant, enthalpy
  /// and heat capacity in one; at 25 degrees C `constant_terms`.
  [[nodiscard]] static std::vector<std::pair<std::string, double>> terms_at(const Species& one,
                                                                            double temperature_c);
  /// True when the constant at this temperature rests on an enthalpy that was estimated.
  [[nodiscard]] bool rests_on_estimate(const Species& one, double temperature_c) const;

  /// Names of the species and solids that hold this component (`Cu(2+)`) and whose constant is
  /// neither known nor estimated at the temperature, in data-set order; none at 25 degrees C.
  /// Throws UnknownName for the component.
  [[nodiscard]] std::vector<std::string> unknown_at(double temperature_c,
                                                    std::string_view component) const;

  /// False for a component whose acid or base has no constant: it could take up or give no acid.
  [[nodiscard]] bool proton_partner_known(const Species& component) const;
  /// Components of which that is false.
  [[nodiscard]] std::vector<std::string> without_proton_partner() const;

  /// The records as read, from which an extension is built; private to the library, and null in
  /// the data set it was built with.
  std::shared_ptr<const detail::Records> records;

  /// Builds the name look-up after the vectors have been filled.
  void index_names();

 private:
  std::map<std::string, std::size_t, std::less<>> species_by_name_;
  std::map<std::string, std::size_t, std::less<>> figure_by_id_;
};

/// The data set the library was built with, checked and reduced then; unpacked once, thread safe.
[[nodiscard]] std::shared_ptr<const Dataset> default_dataset();

/// A data set read from a directory with the files of data/. Throws FileError.
[[nodiscard]] std::shared_ptr<const Dataset> load_dataset(const std::string& directory);

/// A copy of `base` with the records of one TOML file added; a record whose key exists replaces it.
/// Throws FileError.
[[nodiscard]] std::shared_ptr<const Dataset> extend_dataset(const Dataset& base,
                                                            const std::string& file);

/// Elements, atoms and charge of a species name or formula (`Cu2(OH)3Cl`, `CuCl2.2H2O`,
/// `CuCl2(-)`).
struct Composition {
  std::vector<std::pair<std::string, double>> elements;  ///< in order of first appearance
  int charge = 0;
};
/// Throws InputError when the text is no formula.
[[nodiscard]] Composition parse_formula(std::string_view formula);
/// g/mol from the standard atomic weights (abridged, CIAAW 2021); throws InputError for an unknown
/// element.
[[nodiscard]] double molar_mass_g_per_mol(const Composition& composition);

}  // namespace aeruca
