#include "casefile/copper_solids.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number_text.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

struct SolidRow {
  const Species* species;
  double gap;  // log10 per copper atom behind the most stable form; 0 for that form itself
  double gap_uncertainty;
  double saturation_index;  // NaN without copper
  double saturation_uncertainty;
};

bool within_components(const Dataset& dataset, const Species& species,
                       const FieldOptions& options) {
  for (std::size_t j = 0; j < dataset.components.size(); ++j) {
    const std::string& component = dataset.components[j];
    const bool always =
        component == "H2O" || component == "H(+)" || component == "e(-)" || component == "Cu(2+)";
    const bool held =
        options.log10_activity.contains(component) || options.log10_ligand.contains(component);
    if (species.components[j] != 0 && !always && !held) return false;
  }
  return true;
}

std::vector<SolidRow> solid_rows(const WaterState& state, const DatasetPointer& dataset,
                                 const FieldOptions& options, const PointAnswer& best) {
  std::vector<SolidRow> rows;
  for (const Species& species : dataset->species) {
    if (species.kind != PhaseKind::solid || !holds_copper(*dataset, species)) continue;
    if (!within_components(*dataset, species, options)) continue;
    SolidRow row{&species, 0, 0, kNotGiven, kNotGiven};
    if (species.name != best.species) {
      FieldOptions pair = options;
      pair.only = {species.name, best.species};
      const PointAnswer answer = stable_at(dataset, pair, state.result.ph, state.potential.eh_v);
      row.gap = answer.gap_log10;
      row.gap_uncertainty = answer.uncertainty_log10;
    }
    const auto index = state.result.saturation_index.find(species.name);
    if (state.has_copper && index != state.result.saturation_index.end()) {
      row.saturation_index = index->second;
      const auto found = state.index_uncertainty.find(species.name);
      if (found != state.index_uncertainty.end()) row.saturation_uncertainty = found->second;
    }
    rows.push_back(row);
  }
  std::stable_sort(rows.begin(), rows.end(),
                   [](const SolidRow& a, const SolidRow& b) { return a.gap < b.gap; });
  return rows;
}

std::string standing(const SolidRow& row, bool copper_is_limit) {
  if (!std::isnan(row.saturation_index)) {
    const double margin = 2 * row.saturation_uncertainty;
    if (row.saturation_index > margin) return copper_is_limit ? "not decided" : "may form";
    return row.saturation_index < -margin ? "would dissolve" : "not decided";
  }
  if (row.gap == 0) return "most stable";
  return row.gap > 2 * row.gap_uncertainty ? "gives way" : "not decided";
}

// Solids a reader asks for, and those near enough to matter.
bool worth_a_row(const SolidRow& row) {
  static const std::vector<std::string> asked{"copper",       "cuprite",        "tenorite",
                                              "nantokite",    "clinoatacamite", "atacamite",
                                              "botallackite", "malachite"};
  constexpr double kNear = 1;  // log10 per copper atom
  return row.gap < kNear || std::find(asked.begin(), asked.end(), row.species->name) != asked.end();
}

CaseTable solids_table(const std::vector<SolidRow>& rows, const WaterState& state,
                       const std::string& name, const PointAnswer& best) {
  CaseTable table;
  table.title = "Copper solids in " + name;
  table.columns = {"solid", "formula", "saturation index", "behind " + best.species,
                   "in endless time"};
  std::size_t further = 0;
  for (const SolidRow& row : rows) {
    if (!worth_a_row(row)) {
      ++further;
      continue;
    }
    const std::string index =
        std::isnan(row.saturation_index)
            ? "not known"
            : std::string(state.copper_is_limit ? "at most " : "") +
                  plus_minus(row.saturation_index, row.saturation_uncertainty);
    std::string words = standing(row, state.copper_is_limit);
    if (!row.species->slow_to_form.empty()) words += "; slow to form";
    table.rows.push_back({row.species->name, row.species->formula, index,
                          row.gap == 0 ? "-" : plus_minus(row.gap, row.gap_uncertainty), words});
  }
  table.note =
      "Saturation index: log10 of supersaturation (above 0 may form). Behind: log10 units per "
      "copper atom, with one standard uncertainty. That of an index holds the readings and the "
      "solid's own constant, not those of the dissolved complexes";
  table.note += ".";
  if (further > 0)
    table.note += " " + std::to_string(further) + " solids further behind are left out.";
  if (state.copper_left_out) {
    table.note +=
        " Copper was found in this water, but most of its dissolved forms have no heat of "
        "formation in the data set: saturation at " +
        format_number(state.water.options.temperature_c) +
        " degrees C would rest on constants of 25 and is not worked out.";
  } else if (!state.has_copper) {
    table.note += " Copper in the water was not given, so saturation cannot be told.";
  }
  return table;
}

}  // namespace

bool holds_copper(const Dataset& dataset, const Species& species) {
  return species.components[dataset.component_index("Cu(2+)")] > 0;
}

CaseTable copper_solids(const WaterState& state, const std::string& name,
                        const DatasetPointer& dataset, const FieldOptions& options,
                        const PointAnswer& best) {
  return solids_table(solid_rows(state, dataset, options, best), state, name, best);
}

}  // namespace aeruca::detail
