#pragma once

/// \file
/// Fields at fixed totals: which solids or which dissolved form hold the copper of a given water,
/// over a plane of two conditions.
///
/// Words. *Total*: what was weighed in, mol per kg of water, dissolved or not. *Assemblage*: the
/// copper solids that are there together; where none is, the dissolved species that holds most of
/// the copper. A field is one assemblage, `cuprite + nantokite` as much as `malachite`.
///
/// Beside the fields at fixed activities (stability.hpp), where each edge is a straight line and
/// chloride does not run out, here each point is an equilibrium (equilibrium.hpp) with its activity
/// model: a solid takes up what it is made of, strong solutions bend the edges, and a field ends
/// where its solid dissolves altogether.
///
/// Boundaries are traced, not painted: to 0.001 in pH and in log units, 0.1 mV in Eh, 0.0001 in
/// water activity and 0.01 degrees C. Fields are closed, do not overlap and together cover the
/// frame. A field, or a neck of one, that is narrower than a cell of the first grid (`cells` to a
/// side, whose corners and middles are asked) can be missed.
///
/// Validity and uncertainty: those of the equilibrium; where it has no answer, a field says so. An
/// edge is as sure as its constants, tenths of a log unit or 10 to 30 mV for most; nothing here is a
/// rate.

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "aeruca/stability.hpp"

namespace aeruca {

/// What runs along an axis.
enum class Condition {
  ph,
  eh_v,            ///< V against the standard hydrogen electrode
  log10_oxygen,    ///< log10 of the fugacity of O2(g), bar
  log10_total,     ///< log10 of mol per kg of water weighed in, of ConditionAxis::name
  log10_fugacity,  ///< log10 bar of the gas ConditionAxis::name, held
  water_activity,
  temperature_c
};

/// One axis and its range; `low` < `high`.
struct ConditionAxis {
  Condition condition = Condition::ph;
  std::string name;  ///< for log10_total (any species or solid) and log10_fugacity; else empty
  double low = 0, high = 14;
};

/// An axis by its text: "pH", "Eh", "oxygen", "water activity", "temperature", "total Cl(-)" (or
/// "total halite"), or a gas such as "CO2(g)". Throws InputError for an empty text.
[[nodiscard]] ConditionAxis condition_axis(std::string_view text, double low, double high);
/// "pH", "Eh / V vs SHE", "log10 total Cl(-) / (mol/kg)", "log10 f(CO2(g)) / bar" ...
[[nodiscard]] std::string axis_title(const ConditionAxis& axis);

/// What runs, what is held, and which forms are reckoned with.
struct TotalsFieldOptions {
  ConditionAxis x{Condition::ph, "", 0, 14};
  ConditionAxis y{Condition::eh_v, "", -1, 1.4};
  /// What the axes leave: totals, pH or none (from the charge), Eh or oxygen or none (from the
  /// totals), gases, water activity.
  EquilibriumInput held;
  double temperature_c = 25;  ///< where it is no axis; 0 to 50
  ActivityModel activity = ActivityModel::sit;
  std::vector<std::string> left_out;  ///< solids or species by name, such as slow ones
  int cells = 48;                     ///< of the first grid, to a side; 8 to 400
  MissingEnthalpy missing_enthalpy = MissingEnthalpy::estimate;
};

/// Where two fields meet.
struct TracedEdge {
  std::string left, right;  ///< fields; left as seen going along the line
  std::vector<Point> line;  ///< in axis units; closed when its ends are equal
  /// Of what changes there, with the forms that predominate at its middle: "2 nantokite + H2O =
  /// cuprite + 2 H(+) + 2 Cl(-)"; empty where more than one solid comes or goes
  std::string reaction;
};

/// Fields, edges and corners. Field::pieces and Field::rivals are empty.
struct TotalsFieldDiagram {
  TotalsFieldOptions options;
  std::vector<Field> fields;  ///< by size, the largest first
  std::vector<TracedEdge> edges;
  std::vector<Corner> corners;
  std::vector<WaterLine> water_lines;  ///< over pH and Eh only
  std::string conditions;              ///< what is held, in one line
  std::size_t solved = 0;              ///< waters
  std::vector<std::string> warnings;
  std::vector<std::string> figures;  ///< ids of the constants used
  std::string dataset_version, dataset_hash;
};

/// The field of a water without an answer.
inline constexpr std::string_view kNoAnswer = "no answer";

/// Traces the fields. Throws UnknownName; InputError for a range that is empty or out of bounds,
/// axes that are the same or are held as well, nothing that holds copper, and as Equilibrium.
[[nodiscard]] TotalsFieldDiagram totals_field_diagram(std::shared_ptr<const Dataset> dataset,
                                                      const TotalsFieldOptions& options);

/// A view that is ready: what it shows, and the water it is drawn for. Invented waters of common
/// strengths, to start from.
struct TotalsView {
  std::string name;   ///< "pit"
  std::string shows;  ///< in a sentence
  TotalsFieldOptions options;
};
/// "pit", "chloride", "carbon dioxide", "bath".
[[nodiscard]] const std::vector<TotalsView>& totals_views();
/// Throws UnknownName.
[[nodiscard]] const TotalsView& totals_view(std::string_view name);

/// The same labels at points, without tracing: names of the fields. x and y of equal length.
[[nodiscard]] std::vector<std::string> assemblages_at(std::shared_ptr<const Dataset> dataset,
                                                      const TotalsFieldOptions& options,
                                                      std::span<const double> x,
                                                      std::span<const double> y);

}  // namespace aeruca
