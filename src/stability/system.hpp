#pragma once

// The candidates over two axes as planes, one set for each choice of ligand forms.

#include <cstddef>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "aeruca/stability.hpp"
#include "numerics/express.hpp"
#include "numerics/polygon.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca::detail {

/// Which axis sets a quantity.
enum class SetBy { value, x, y };

/// A species whose log10 activity is given: by a number, or along an axis.
struct Held {
  std::size_t species = 0;
  double log10_k = 0;
  Plane log10_activity;  // over the axes, in axis units
  SetBy set_by = SetBy::value;
  std::string quantity;     // as a line equation names it: "pH", "Eh", "log10 a(Cl(-))"
  double per_quantity = 1;  // d log10 a / d quantity
  Errors errors;
};

struct Candidate {
  std::size_t species = 0;
  double copper = 1;  // atoms
  double log10_k = 0;
  bool dissolved = false;
  Errors errors;
};

/// A ligand that changes form: the forms of which one is held at `log10_activity`.
struct Ligand {
  std::size_t component = 0;
  std::vector<Held> forms;
};

/// One choice of ligand forms: everything is linear in the axes.
struct Regime {
  std::vector<Held> held;     // basis of all reactions here
  std::vector<Row> in_held;   // candidate = Cu(2+)s + sum in_held[k] held[k], per formula
  std::vector<Plane> planes;  // q of each candidate
};

struct System {
  std::shared_ptr<const Dataset> dataset;
  FieldOptions options;
  double volts_per_decade = 0;
  std::vector<std::string> names;  // of the candidates
  std::vector<Candidate> candidates;
  std::vector<Held> fixed;  // held in every regime
  std::vector<Ligand> ligands;
  std::vector<std::vector<Plane>> form_planes;  // by ligand and form: highest predominates
  std::vector<Regime> regimes;                  // form of ligand 0 runs fastest
  std::vector<std::string> error_names;         // by number, see Errors
  std::set<std::string> estimated;              // whose heat is, at this temperature

  [[nodiscard]] const Species& species_of(std::size_t candidate) const {
    return dataset->species[candidates[candidate].species];
  }
};

/// Ids of the figures that a constant rests on at the temperature; estimated heat capacities, of
/// which there is one for most reactions, are not listed.
[[nodiscard]] std::vector<std::string> figures_at(const System& system, const Species& species);

/// Reason of a candidate left out because MissingEnthalpy says so.
[[nodiscard]] std::string no_enthalpy();

/// Checks the options and works all planes out. Throws InputError and UnknownName.
[[nodiscard]] System make_system(std::shared_ptr<const Dataset> dataset, FieldOptions options);

/// What is held: pH, Eh, activities and ligands, each once. First half of make_system.
void add_held(System& system);

/// log10 K at the temperature; none where its enthalpy is neither known nor, where that is allowed,
/// estimated, which it then notes.
[[nodiscard]] std::optional<double> constant_at(System& system, const Species& species);

/// Position in `regimes` at a point.
[[nodiscard]] std::size_t regime_at(const System& system, Point2 at);

/// A reaction between two candidates in one regime:
///   right_count right + sum held_count[k] held[k] = left_count left.
struct Reaction {
  std::size_t left = 0, right = 0;  // candidates
  double left_count = 1, right_count = 1;
  std::vector<double> held_count;
  double log10_k = 0;
  double uncertainty = 0;
  std::vector<std::string> figures, shared_figures;
};
[[nodiscard]] Reaction reaction_between(const System& system, const Regime& regime,
                                        std::size_t left, std::size_t right);
/// One standard uncertainty of q(left) - q(right).
[[nodiscard]] double gap_uncertainty(const System& system, const Regime& regime, std::size_t left,
                                     std::size_t right);
/// Electrons, else protons, else gases on the left-hand side; also turns log10_k to match.
struct WrittenReaction {
  std::string text;
  double log10_k = 0;
};
[[nodiscard]] WrittenReaction write(const System& system, const Regime& regime,
                                    const Reaction& reaction);

/// Line where q(left) = q(right).
[[nodiscard]] LineEquation line_between(const System& system, const Regime& regime,
                                        const Reaction& reaction);
enum class Direction { sloping, vertical };
/// Line where a plane is zero (no letters).
[[nodiscard]] LineEquation line_of(const Plane& zero, Direction direction);

/// What a quantity may be.
struct Range {
  double low, high;
  std::string_view text;
};
[[nodiscard]] Range range_of(AxisQuantity quantity);

/// "pH", "Eh", "log10 a(Cl(-))" of an axis, as line equations write it.
[[nodiscard]] std::string axis_quantity(const Axis& axis);

}  // namespace aeruca::detail
