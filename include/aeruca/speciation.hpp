#pragma once

/// \file
/// A water at equilibrium as a reader asks for it: where each element is, and what each solid would
/// need to form.
///
/// Words. An *element* here is a component of the data set that is kept as it is weighed in:
/// copper, chloride, carbonate. Its *forms* are the dissolved species and the formed solids that
/// hold it. The *index* of a solid is log10 of its saturation: 0 saturated, above 0 it may form.
///
/// What a solid needs. Its index is a sum over the activities of its components, so that with all
/// else as it is, pH and Eh included, the index is 0 when the activity of one component of which it
/// holds n is  10^(-index / n)  times what it is. For a trace ingredient the total changes by that
/// factor too; where complexes or solids take the ingredient up, by more.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/analysis.hpp"
#include "aeruca/equilibrium.hpp"
#include "aeruca/ranges.hpp"

namespace aeruca {

/// One form of an element.
struct ElementForm {
  std::string name;
  PhaseKind kind = PhaseKind::aqueous;  ///< aqueous or solid
  double percent = 0;                   ///< of the element, dissolved and solid together
  double mol_per_kg = 0;                ///< of the form itself, per kg of water
  double log10_activity = 0;            ///< 0 for a solid
};

/// Where one element is.
struct ElementShares {
  std::string component;           ///< `Cu(2+)`
  std::string word;                ///< "copper"
  double mol_per_kg = 0;           ///< dissolved and solid together
  std::vector<ElementForm> forms;  ///< largest share first; their percents add up to 100
};
/// Of a converged result; elements that are not there are left out. Copper first, then by amount.
[[nodiscard]] std::vector<ElementShares> shares_by_element(const EquilibriumResult& result,
                                                           const Dataset& dataset);

/// One solid against a water.
struct SolidNeed {
  std::string name;
  double index = 0;
  double formed_mol_per_kg = 0;  ///< above 0: it is there
  bool allowed = false;          ///< to form, in this result
  std::string slow_to_form;      ///< reason it is often left out; empty if it forms readily
  /// Word of each ingredient and the factor on its activity that would bring the index to 0, least
  /// first; empty at and above saturation.
  std::vector<std::pair<std::string, double>> needs;
};
/// Every solid with an index, largest first.
[[nodiscard]] std::vector<SolidNeed> solid_needs(const EquilibriumResult& result,
                                                 const Dataset& dataset);

/// A solved water with both, as it is printed.
struct Speciation {
  SolvedWater solved;
  std::vector<ElementShares> elements;  ///< empty of an answer that is not certified
  std::vector<SolidNeed> solids;        ///< the same
  std::optional<WaterRanges> ranges;    ///< where they were asked for
};
[[nodiscard]] Speciation speciation_of(SolvedWater solved, const Dataset& dataset);

}  // namespace aeruca
