#include "casefile/copper_solids.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

struct SolidRow {
  Standing standing;
  double saturation_index;  // NaN without copper
  double saturation_uncertainty;
};

double found_in(const std::map<std::string, double>& figures, const std::string& name) {
  const auto found = figures.find(name);
  return found == figures.end() ? kNotGiven : found->second;
}

std::vector<SolidRow> solid_rows(const SolvedCaseWater& state,
                                 const std::vector<Standing>& standings) {
  std::vector<SolidRow> rows;
  for (const Standing& one : standings) {
    if (one.kind != PhaseKind::solid) continue;
    SolidRow row{one, kNotGiven, kNotGiven};
    if (state.has_copper) {
      row.saturation_index = found_in(state.result.saturation_index, one.species);
      row.saturation_uncertainty = found_in(state.index_uncertainty, one.species);
    }
    rows.push_back(row);
  }
  return rows;
}

std::string standing_words(const SolidRow& row, bool copper_is_limit) {
  if (!std::isnan(row.saturation_index)) {
    const double margin = 2 * row.saturation_uncertainty;
    if (row.saturation_index > margin)
      return copper_is_limit ? say("solids.standing.not_decided") : say("solids.standing.may_form");
    return row.saturation_index < -margin ? say("solids.standing.would_dissolve")
                                          : say("solids.standing.not_decided");
  }
  if (row.standing.gap_log10 == 0) return say("solids.standing.most_stable");
  return row.standing.gap_log10 > 2 * row.standing.gap_uncertainty_log10
             ? say("solids.standing.gives_way")
             : say("solids.standing.not_decided");
}

// Solids a reader asks for, and those near enough to matter.
bool worth_a_row(const SolidRow& row) {
  static const std::vector<std::string> asked{"copper",       "cuprite",        "tenorite",
                                              "nantokite",    "clinoatacamite", "atacamite",
                                              "botallackite", "malachite"};
  constexpr double kNear = 1;  // log10 per copper atom
  return row.standing.gap_log10 < kNear ||
         std::find(asked.begin(), asked.end(), row.standing.species) != asked.end();
}

std::string index_words(const SolidRow& row, bool copper_is_limit) {
  if (std::isnan(row.saturation_index)) return say("word.not_known");
  const std::string index = plus_minus(row.saturation_index, row.saturation_uncertainty);
  return copper_is_limit ? say("index.at_most", {{"index", index}}) : index;
}

std::vector<std::string> cells(const SolidRow& row, const Species& species, bool copper_is_limit) {
  const Standing& one = row.standing;
  std::string words = standing_words(row, copper_is_limit);
  if (!species.slow_to_form.empty()) words += say("solids.standing.slow_to_form");
  return {one.species, species.formula, index_words(row, copper_is_limit),
          one.gap_log10 == 0 ? "-" : plus_minus(one.gap_log10, one.gap_uncertainty_log10), words};
}

std::string table_note(const SolvedCaseWater& state, std::size_t left_out) {
  std::string note = say("solids.note.columns");
  if (left_out > 0) note += say("solids.note.left_out", {{"count", std::to_string(left_out)}});
  if (state.copper_left_out) {
    note += say("solids.note.copper_left_out",
                {{"temperature_c", format_number(state.water.options.temperature_c)}});
  } else if (!state.has_copper) {
    note += say("solids.note.copper_not_given");
  }
  return note;
}

}  // namespace

CaseTable copper_solids(const SolvedCaseWater& state, const std::string& name,
                        const Dataset& dataset, const std::vector<Standing>& standings) {
  CaseTable table;
  table.title = say("solids.title", {{"water", name}});
  table.columns = {say("column.solid"), say("column.formula"), say("column.saturation_index"),
                   say("solids.column.behind", {{"form", standings.front().species}}),
                   say("solids.column.standing")};
  std::size_t left_out = 0;
  for (const SolidRow& row : solid_rows(state, standings)) {
    if (worth_a_row(row)) {
      table.rows.push_back(cells(row, dataset.at(row.standing.species), state.copper_is_limit));
    } else {
      ++left_out;
    }
  }
  table.note = table_note(state, left_out);
  return table;
}

}  // namespace aeruca::detail
