#pragma once

/// \file
/// Many waters of one system at once: what goes in by row, what comes out by column.
///
/// Words. *Row*: one water. *Column*: one figure of every water; a map needs the solid and one
/// concentration, not a hundred, so columns, species, solids and gases can be chosen. An empty list
/// is no restriction.
///
/// Temperature by row. The constants of each temperature are prepared once a call (some tenths of a
/// millisecond), so few distinct ones are much faster than many. The columns are those of the
/// system at its own temperature: a species or solid that is left out there is left out in every
/// row, and one that has no constant at the temperature of a row is NaN there.

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace aeruca {

/// Many waters, one a row; units and ranges of EquilibriumInput. Views: what they show must outlive
/// the call. Empty: not given.
struct EquilibriumRows {
  std::size_t count = 0;  ///< n
  std::span<const std::string> ingredients;
  std::span<const double> totals_mol_per_kg;    ///< (n, ingredients) row-major
  std::span<const double> ph = {};              ///< (n)
  std::span<const double> eh_v = {};            ///< (n)
  std::span<const double> oxygen_bar = {};      ///< (n)
  std::span<const double> water_activity = {};  ///< (n)
  std::span<const double> temperature_c = {};   ///< (n) 0 to 50; not given: that of the system
  std::span<const std::string> gases = {};      ///< held, such as `CO2(g)`
  std::span<const double> fugacity_bar = {};    ///< (n, gases) row-major, above 0 to 1000 bar
};

/// The figures of a batch that can be asked for; each is the member of EquilibriumBatch of that
/// name.
enum class BatchColumn {
  log10_molality,
  solid_mol_per_kg,
  leading_solid,
  saturation_index,
  log10_fugacity,
  ph,
  eh_v,
  ionic_strength,
  water_activity,
  solvent_kg,
  degenerate
};

/// "log10_molality" and so on, as written there.
[[nodiscard]] std::string_view to_string(BatchColumn column);
/// Throws InputError that lists what it accepts.
[[nodiscard]] BatchColumn batch_column_from(std::string_view name);

/// What is wanted of a batch. A list of names has an effect on the columns that it is about, and is
/// refused where none of them is wanted.
struct BatchChoice {
  std::vector<BatchColumn> columns;
  std::vector<std::string> species;  ///< of log10_molality
  /// Of saturation_index and, as far as they may form, of solid_mol_per_kg
  std::vector<std::string> solids;
  std::vector<std::string> gases;  ///< of log10_fugacity
};

/// Many waters at equilibrium. A column that was not asked for is empty; NaN where there is no
/// certified answer.
struct EquilibriumBatch {
  std::vector<std::string> species;         ///< of log10_molality
  std::vector<std::string> allowed_solids;  ///< of solid_mol_per_kg
  std::vector<std::string> indexed_solids;  ///< of saturation_index
  std::vector<std::string> gases;           ///< of log10_fugacity
  std::vector<double> log10_molality;       ///< (n, species) row-major; minus infinity: not there
  std::vector<double> solid_mol_per_kg;     ///< (n, allowed solids) row-major, per kg water given
  std::vector<int> leading_solid;           ///< (n) place in Equilibrium::allowed_solids() of the
                                            ///< one with most moles; -1: none
  std::vector<double> saturation_index;     ///< (n, indexed solids) row-major, log10; minus
                                            ///< infinity: a component is not there
  std::vector<double> log10_fugacity;       ///< (n, gases) row-major, bar
  std::vector<double> ph, eh_v;             ///< (n), V
  std::vector<double> ionic_strength;       ///< (n) mol/kg
  std::vector<double> water_activity;       ///< (n)
  std::vector<double> solvent_kg;           ///< (n) per kg given; 1 unless water activity is held
  std::vector<unsigned char> degenerate;    ///< (n) 1 where solids could stand for each other
  std::vector<int> status;                  ///< (n) Status as number; always there
  std::vector<unsigned char> certified;     ///< (n) 1 when the certificate holds; always there
};

}  // namespace aeruca
