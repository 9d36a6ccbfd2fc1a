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
/// so that  ln a(species) = ln 10 * log10_k + sum_j components[j] * ln a(component j)
/// holds for a dissolved or gaseous species at equilibrium (molality or bar), and
///   ln(saturation) = that right-hand side  for a solid.
///
/// Checks at load (FileError with file, record and field): keys resolve, ranges are sane, every
/// reaction balances in mass and charge, every closed cycle closes within the stated uncertainty.

#include <map>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "aeruca/provenance.hpp"

namespace aeruca {

namespace detail {
struct Records;
}

enum class PhaseKind { aqueous, solid, gas, solvent, electron };

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
  std::string colour;                ///< of the mineral, in words and as "#rrggbb" after a space
  std::vector<std::string> figures;  ///< ids of the figures its constant rests on
  /// log10_k as a sum of coefficient times figure value, by figure id: what is correlated shares an
  /// id.
  std::vector<std::pair<std::string, double>> constant_terms;
};

/// What to do away from 25 degrees C with a species or solid whose enthalpy the data set lacks.
enum class MissingEnthalpy {
  refuse,     ///< InputError that names them; leave them out by name to go on
  leave_out,  ///< left out, with that as the reason
  keep_25c  ///< their constants of 25 degrees C are used and a warning lists them: wrong by tenths
            ///< to several log units, and in sign where the ionisation of water moves
};

/// "refuse", "leave_out" or "keep_25c".
[[nodiscard]] std::string_view to_string(MissingEnthalpy choice);
/// Throws InputError that lists the three.
[[nodiscard]] MissingEnthalpy missing_enthalpy_from(std::string_view name);

/// Specific-ion interaction coefficient of a pair, kg/mol at 25 degrees C.
struct SitCoefficient {
  std::string cation, anion;
  double value = 0;
  double uncertainty = 0;
  std::string figure;  ///< id of its figure; empty when estimated by the stated rule
};

/// Pitzer parameters of one cation-anion pair; missing ones are zero.
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
};

/// Pitzer mixing parameter: theta(i,j), psi(i,j,k), lambda(neutral,i), zeta(neutral,i,j).
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
      equilibrium;   ///< "deliquescence", "hydration" (`upper/lower`), "mutual" (`one+other`)
  std::string kind;  ///< "evaluated", "measured", "compiled", "computed"
  double temperature_c = 0;
  double rh_percent = 0;
  double uncertainty_percent = 0;  ///< NaN: not stated
  std::string source;
  Basis basis = Basis::memory;
  std::string note;
  /// Superseded, biased or weak, as its note says; kept, but never put first
  bool doubtful = false;
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

  /// Position of a species in `species`. Throws UnknownName with the nearest known name.
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

  /// log10 of the formation constant at a temperature, by van 't Hoff with constant heat capacity
  /// of reaction. NaN in, NaN out. Throws InputError outside 0 to 50 degrees C, and away from 25
  /// degrees C when the species has no enthalpy: see `log10_k_known_at`.
  [[nodiscard]] double log10_k(const Species& species, double temperature_c) const;
  /// False when the constant away from 25 degrees C would need an enthalpy the data set lacks.
  [[nodiscard]] static bool log10_k_known_at(const Species& species, double temperature_c);

  /// The records as read, from which an extension is built; private to the library.
  std::shared_ptr<const detail::Records> records;

  /// Builds the name look-up after the vectors have been filled.
  void index_names();

 private:
  std::map<std::string, std::size_t, std::less<>> species_by_name_;
  std::map<std::string, std::size_t, std::less<>> figure_by_id_;
};

/// The data set the library was built with; parsed once, thread safe.
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
