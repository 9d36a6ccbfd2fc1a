#pragma once

/// \file
/// Which solid or dissolved form of copper is the most stable, over a plane of two conditions.
///
/// Words. A *candidate* is any dissolved species or solid that holds copper and is made of
/// components whose activities are given. A *field* is the part of the plane where one candidate is
/// the most stable; an *edge* parts two fields and is the equilibrium of one reaction; a *corner*
/// is where three or more fields meet. A *ligand* is a component such as CO3(2-) that itself
/// changes form with pH.
///
/// Equation. For candidate s with n_s copper atoms, formation constant K_s (from the components of
/// the data set) and component coefficients nu_sj, the steadiness per copper atom
///   q_s = [log10 K_s + sum_{j != Cu} nu_sj log10 a_j - log10 a_s] / n_s = -log10 a(Cu(2+)) over s
/// is linear in pH, Eh and every log10 activity; a_s is 1 for a solid and the set dissolved-copper
/// activity for *each* dissolved species (also for one with several copper atoms). The candidate
/// with the largest q_s is the stable one; 10^-q is the Cu(2+) activity it holds down. (q_s - q_r)
/// RT ln 10 is the affinity of r -> s per mole of copper. The same construction as M. Pourbaix,
/// Atlas of Electrochemical Equilibria in Aqueous Solutions (1966), whose printed lines are tested.
///
/// Method. Fields are the upper envelope of these planes, found by clipping half-planes inside each
/// cell of the ligands' own predominance: no grid. Polygons are closed, counter-clockwise and tile
/// the frame. Pieces of one candidate in neighbouring cells are merged.
///
/// Accuracy. Vertices to 1e-9 of the frame; areas add up to the frame to 1e-12 of it. The truth is
/// limited by the constants: every edge carries the standard uncertainty they leave. What both
/// sides owe to the same figure of the data set cancels as it should; other correlation is ignored,
/// and a figure without a stated uncertainty counts as exact (a warning says so). Where published
/// constants differ by more than they admit, lines stay with the chosen ones; a point answer says
/// whether it would change with another figure for the same reaction, put in one at a time.
///
/// Degenerate cases. Candidates exactly equal everywhere: the earlier in the data set takes the
/// field and the other is named in `rivals`. A field that is only a point or a line is left out.
///
/// Units and ranges.
///
/// | quantity         | unit                                      | accepted  |
/// |------------------|-------------------------------------------|-----------|
/// | pH               | -log10 a(H(+))                            | -2 to 16  |
/// | Eh               | V against the standard hydrogen electrode | -3 to 3   |
/// | log10 activity   | molal scale; a gas: fugacity in bar       | -100 to 5 |
/// | dissolved copper | log10 activity of each species            | -20 to 2  |
/// | temperature      | degrees C                                 | 0 to 50   |
/// An edge of a reaction with m protons and n electrons slopes -0.0592 m / n V per pH at 25 degrees
/// C. Eh and electrons: log10 a(e(-)) = -Eh F / (RT ln 10), 0.05916 V per log unit at 25 degrees C.
///
/// What an uncertainty is. One standard uncertainty u of a gap q_s - q_r, from the figures both
/// constants rest on,  u^2 = sum over figures f of (dq_s/df - dq_r/df)^2 u_f^2.  A gap below
/// `coverage` u is "not decided": the chance that the order is wrong is then above 2 % (coverage
/// 2). 1 log unit per copper atom is 5.71 kJ/mol at 25 degrees C; copper solids are known to 0.1 to
/// 0.5.
///
/// Not in it. Activity coefficients (axes and set values are activities), rates, mixed solids.
/// Water activity is as set (1). Stable means: what may form in endless time.

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// What runs along an axis.
enum class AxisQuantity {
  ph,              ///< -log10 a(H(+))
  eh_v,            ///< V against the standard hydrogen electrode
  log10_activity,  ///< of the species or gas in Axis::name (gas: fugacity in bar)
  log10_ligand,    ///< of whichever dissolved form of the component in Axis::name predominates
  log10_copper     ///< of each dissolved copper species
};

/// One axis and its range; `low` < `high`.
struct Axis {
  AxisQuantity quantity = AxisQuantity::ph;
  std::string name;  ///< for log10_activity and log10_ligand: `Cl(-)`, `CO2(g)`; else empty
  double low = 0;
  double high = 14;
};

/// An axis by its text: "pH", "Eh", "dissolved copper", "dissolved CO3(2-)" (the predominant form),
/// or a species or gas such as "Cl(-)" or "CO2(g)". The name is checked when the diagram is made.
[[nodiscard]] Axis axis_from(std::string_view text, double low, double high);
/// "pH", "Eh / V vs SHE", "log10 a(Cl(-))", "log10 f(CO2(g)) / bar",
/// "log10 a(dissolved copper)" ...
[[nodiscard]] std::string axis_title(const Axis& axis);

/// A candidate left out on purpose, and why.
struct LeftOut {
  std::string name;
  /// Empty: the reason of the data set if it has one, else "left out by the user"
  std::string reason;
};

/// What runs, what is held, and which candidates are compared. Each of pH, Eh and the components of
/// the candidates is set once: on an axis, by a number, or by a gas.
struct FieldOptions {
  Axis x{AxisQuantity::ph, "", 0, 14};
  Axis y{AxisQuantity::eh_v, "", -1, 1.4};
  double temperature_c = 25;  ///< 0 to 50
  std::optional<double> ph;   ///< when not an axis; -2 to 16
  /// When not an axis; -3 to 3 V. May be given by `O2(g)` or `H2(g)` instead
  std::optional<double> eh_v;
  /// Held at this log10 activity (gas: log10 fugacity in bar), by name: `Cl(-)` -0.44, `CO2(g)`
  /// -3.4. A component that is not given here, in `log10_ligand` or on an axis is absent. -100
  /// to 5.
  std::map<std::string, double> log10_activity;
  /// Held at this log10 activity in whichever dissolved form predominates at the pH, by component:
  /// `CO3(2-)` -2 holds CO2(aq), HCO3(-) or CO3(2-) at 0.01. -100 to 5.
  std::map<std::string, double> log10_ligand;
  double log10_copper = -6;       ///< activity of each dissolved copper species; -20 to 2
  double log10_water = 0;         ///< water activity; -1 to 0
  std::vector<LeftOut> left_out;  ///< candidates left out
  std::vector<std::string> only;  ///< candidates to consider; empty: all that the components allow
  double coverage = 2;  ///< standard uncertainties within which a point is "not decided"; above 0
  MissingEnthalpy missing_enthalpy = MissingEnthalpy::estimate;  ///< of candidates
};

/// What is held, in one line: "25 degrees C; log10 a(Cl(-)) = -0.44; each dissolved copper species
/// log10 a = -6".
[[nodiscard]] std::string conditions_text(const FieldOptions& options);

/// A point in axis units.
struct Point {
  double x = 0;
  double y = 0;
};
/// Closed without repeating the first vertex. Counter-clockwise, or clockwise for a hole.
using Polygon = std::vector<Point>;

/// A candidate that shares a field within the uncertainty wherever the two are parallel
/// (polymorphs).
struct Rival {
  std::string species;
  double gap_log10 = 0;              ///< per copper atom, how far it lies behind; >= 0
  double gap_uncertainty_log10 = 0;  ///< one standard uncertainty of that
};

/// The part of the plane where one candidate is the most stable.
struct Field {
  std::string species;
  std::string formula;  ///< `Cu2O` for cuprite
  PhaseKind kind = PhaseKind::solid;
  /// Merged over ligand cells; several when the field is in several parts
  std::vector<Polygon> outlines;
  std::vector<Polygon> pieces;  ///< convex, one in each ligand cell: these tile the frame
  double area_fraction = 0;     ///< of the frame
  Point label;                  ///< inside the field, far from its edges
  double label_room = 0;  ///< distance from there to the nearest edge, in frame widths and heights
  std::vector<Rival> rivals;
  std::string colour;  ///< of the mineral, as in the data set
};

/// y = intercept + slope x, or x = vertical_x when `vertical`.
struct LineEquation {
  bool vertical = false;
  double slope = 0;
  double intercept = 0;
  double vertical_x = 0;
  /// One standard uncertainty of the intercept or of vertical_x; NaN: not known
  double uncertainty = 0;
  /// How far the intercept (or vertical_x) lies lower and higher at most with one other published
  /// figure for the same reaction, one at a time; 0: none moves it that way
  double published_low = 0, published_high = 0;
  /// Ids of those figures; empty: none
  std::string published_low_figure, published_high_figure;
  /// The same line with every activity in letters, solved for y (or x): constant, then the
  /// coefficient of each quantity by name ("pH", "Eh", "log10 a(Cl(-))", "log10 a(CuCl2(-))" ...).
  double constant = 0;
  std::vector<std::pair<std::string, double>> terms;
  std::string text;  ///< "Eh = 0.2110 + 0.0592 pH + 0.0592 log10 a(Cu(2+))"
};

/// Where two fields meet: the equilibrium of one reaction, at the activities held.
struct Edge {
  std::string left, right;  ///< species; left as seen going from `from` to `to`
  Point from, to;
  std::string reaction;  ///< balanced; electrons, else protons, else gases on the left-hand side
  double log10_k = 0;    ///< of the reaction as written, at the temperature asked for
  double log10_k_uncertainty = 0;
  LineEquation line;
  std::vector<std::string> figures;  ///< that the two constants (and the ligand's) rest on
  /// That enter both constants: their errors add with sign
  std::vector<std::string> shared_figures;
};

/// Where three or more fields meet, at one point of the plane.
struct Corner {
  Point at;
  std::vector<std::string> species;  ///< three or more, in data-set order
};

/// Where a gas reaches 1 bar over the water.
struct WaterLine {
  std::string gas;  ///< `H2(g)`, `O2(g)`
  LineEquation line;
  std::vector<Point> part;  ///< its two ends in the frame; empty when it passes outside
};

/// Fields, edges and corners over two axes, with what they rest on. Immutable data: nothing in it
/// points into the model or the data set.
struct FieldDiagram {
  FieldOptions options;
  std::vector<Field> fields;  ///< by data-set order
  std::vector<Edge> edges;
  std::vector<Corner> corners;
  std::vector<WaterLine> water_lines;
  std::vector<std::string> candidates;     ///< all that were compared
  std::vector<std::string> without_field;  ///< compared, but nowhere the most stable in the frame
  std::vector<LeftOut> left_out;           ///< with the reason filled in
  /// Candidates and what is held whose constant at this temperature rests on an estimated heat
  std::vector<std::string> estimated_heats;
  std::vector<std::string> warnings;
  std::vector<std::string> figures;  ///< ids of all constants used
  std::string dataset_version, dataset_hash;
};

/// The most stable candidate at a point and how sure that is.
struct PointAnswer {
  std::string species;
  std::string runner_up;  ///< empty when there is one candidate only
  double gap_log10 = 0;   ///< q(species) - q(runner_up), per copper atom
  double gap_kj_per_mol_copper = 0;
  double uncertainty_log10 = 0;  ///< one standard uncertainty of the gap
  /// By how much another published figure for the same reaction, at the same conditions and one at
  /// a time, narrows the gap to the runner-up at most; 0: by nothing.
  double spread_log10 = 0;
  /// The candidate that comes first with one other published figure, and the id of that figure;
  /// empty: none.
  std::string overtaken_by, overtaking_figure;
  bool decided = false;        ///< gap_log10 > coverage x uncertainty, and overtaken by none
  double log10_copper_ii = 0;  ///< log10 a(Cu(2+)) that the stable candidate holds
};

/// One candidate at a point, against the most stable one there.
struct Standing {
  std::string species;
  PhaseKind kind = PhaseKind::solid;
  double gap_log10 = 0;              ///< per copper atom, how far it lies behind; 0 for the first
  double gap_uncertainty_log10 = 0;  ///< one standard uncertainty of that; 0 for the first
};

/// The same for many points, by column.
struct PointAnswers {
  std::vector<int> species;    ///< position in `FieldModel::candidates()`; -1 where x or y is NaN
  std::vector<int> runner_up;  ///< -1: none
  std::vector<double> gap_log10;
  std::vector<double> gap_kj_per_mol_copper;
  std::vector<double> uncertainty_log10;
  std::vector<unsigned char> decided;
  std::vector<double> spread_log10;
};

/// A prepared set of candidates over two axes. Immutable; use from many threads.
class FieldModel {
 public:
  /// Throws UnknownName for a name that is not in the data set, InputError for a range that is
  /// empty, reversed or not finite, a value out of range, a quantity given twice or not at all, a
  /// candidate whose constant is not known at the temperature (leave it out by name), no candidate
  /// at all.
  FieldModel(std::shared_ptr<const Dataset> dataset, FieldOptions options);
  ~FieldModel();
  FieldModel(FieldModel&& other) noexcept;
  FieldModel& operator=(FieldModel&& other) noexcept;

  [[nodiscard]] const FieldOptions& options() const;
  [[nodiscard]] const std::vector<std::string>& candidates() const;

  [[nodiscard]] FieldDiagram diagram() const;

  /// Points may lie outside the frame, within pH -2 to 16, Eh -3 to 3 V, log10 activity -100 to 5;
  /// beyond: InputError. NaN throws in `at`; in `at_many` it gives -1 and NaN.
  [[nodiscard]] PointAnswer at(double x, double y) const;
  /// Every candidate at a point, the most stable first; of equals, in data-set order. Throws as
  /// `at`.
  [[nodiscard]] std::vector<Standing> standings(double x, double y) const;
  /// x and y of equal length, else InputError.
  [[nodiscard]] PointAnswers at_many(std::span<const double> x, std::span<const double> y) const;

  /// Probability that each candidate is the most stable, given the uncertainty of the constants:
  /// (n, candidates) row-major, the share of `samples` seeded draws. Every figure of the data set
  /// is drawn once a sample from a normal distribution with its standard uncertainty, so that
  /// constants which share a figure move together; ligand forms stay as they are. Standard error
  /// sqrt(p (1 - p) / samples). NaN gives NaN. Throws as `at_many`, and InputError for samples
  /// outside 1 to 1 000 000.
  [[nodiscard]] std::vector<double> probabilities(std::span<const double> x,
                                                  std::span<const double> y, int samples = 2000,
                                                  std::uint64_t seed = 1) const;

 private:
  struct Impl;
  std::unique_ptr<const Impl> impl_;
};

/// FieldModel(dataset, options).diagram()
[[nodiscard]] FieldDiagram field_diagram(std::shared_ptr<const Dataset> dataset,
                                         const FieldOptions& options);
/// FieldModel(dataset, options).at(x, y)
[[nodiscard]] PointAnswer stable_at(std::shared_ptr<const Dataset> dataset,
                                    const FieldOptions& options, double x, double y);

/// pH at which two forms of copper of one oxidation state change places, whatever the potential:
///   2 nantokite + H2O = cuprite + 2 H(+) + 2 Cl(-)   pH = constant + log10 a(Cl(-))
struct PhBoundary {
  double ph = kNotGiven;           ///< NaN: they do not change places between pH -2 and 16
  double uncertainty = kNotGiven;  ///< one standard uncertainty, of the constants
  std::vector<std::string> figures;
};
/// Of two candidates under what `held` sets besides pH and Eh (its axes, `ph`, `eh_v` and `only`
/// are not used). Throws as FieldModel, and InputError where the line between the two runs with the
/// potential.
[[nodiscard]] PhBoundary ph_boundary(const std::shared_ptr<const Dataset>& dataset,
                                     const std::string& one, const std::string& other,
                                     FieldOptions held);

}  // namespace aeruca
