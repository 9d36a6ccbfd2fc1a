#include "casefile/copper_solids.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "casefile/sentence.hpp"

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

std::vector<SolidRow> solid_rows(const SolvedCaseWater& state, const DatasetPointer& dataset,
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
    if (row.saturation_index > margin)
      return copper_is_limit ? say("copper_solids.not_decided") : say("copper_solids.may_form");
    return row.saturation_index < -margin ? say("copper_solids.would_dissolve")
                                          : say("copper_solids.not_decided");
  }
  if (row.gap == 0) return "most stable";
  return row.gap > 2 * row.gap_uncertainty ? say("copper_solids.gives_way")
                                           : say("copper_solids.not_decided");
}

// Solids a reader asks for, and those near enough to matter.
bool worth_a_row(const SolidRow& row) {
  static const std::vector<std::string> asked{"copper",       "cuprite",        "tenorite",
                                              "nantokite",    "clinoatacamite", "atacamite",
                                              "botallackite", "malachite"};
  constexpr double kNear = 1;  // log10 per copper atom
  return row.gap < kNear || std::find(asked.begin(), asked.end(), row.species->name) != asked.end();
}

CaseTable solids_table(const std::vector<SolidRow>& rows, const SolvedCaseWater& state,
                       const std::string& name, const PointAnswer& best) {
  CaseTable table;
  table.title = say("copper_solids.copper_solids_in", {{"1", name}});
  table.columns = {say("column.solid"), say("column.formula"), say("column.saturation_index"),
                   say("copper_solids.behind", {{"1", best.species}}),
                   say("copper_solids.in_endless_time")};
  std::size_t further = 0;
  for (const SolidRow& row : rows) {
    if (!worth_a_row(row)) {
      ++further;
      continue;
    }
    const std::string index =
        std::isnan(row.saturation_index)
            ? say("copper_solids.not_known")
            : std::string(state.copper_is_limit ? say("copper_solids.at_most") : "") +
                  plus_minus(row.saturation_index, row.saturation_uncertainty);
    std::string words = standing(row, state.copper_is_limit);
    if (!row.species->slow_to_form.empty()) words += say("copper_solids.slow_to_form");
    table.rows.push_back({row.species->name, row.species->formula, index,
                          row.gap == 0 ? "-" : plus_minus(row.gap, row.gap_uncertainty), words});
  }
  table.note = say("copper_solids.saturation_index_log10_of_supersaturation");
  table.note += ".";
  if (further > 0)
    table.note +=
        say("copper_solids.solids_further_behind_are_left", {{"1", std::to_string(further)}});
  if (state.copper_left_out) {
    table.note += say("copper_solids.copper_was_found_in_this",
                      {{"1", format_number(state.water.options.temperature_c)}});
  } else if (!state.has_copper) {
    table.note += say("copper_solids.copper_in_the_water_was");
  }
  return table;
}

}  // namespace

bool holds_copper(const Dataset& dataset, const Species& species) {
  return species.components[dataset.component_index("Cu(2+)")] > 0;
}

CaseTable copper_solids(const SolvedCaseWater& state, const std::string& name,
                        const DatasetPointer& dataset, const FieldOptions& options,
                        const PointAnswer& best) {
  return solids_table(solid_rows(state, dataset, options, best), state, name, best);
}

}  // namespace aeruca::detail
