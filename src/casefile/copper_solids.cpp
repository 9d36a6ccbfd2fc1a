#include "casefile/copper_solids.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "aeruca/ranges.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

// Few: a case is assessed at once with many others. A chance is then known to 0.035.
constexpr int kDraws = 200;

struct SolidRow {
  Standing standing;
  double saturation_index;  // NaN without copper
  double saturation_uncertainty;
  double chance;  // of an index above 0; NaN without copper
};

// Without copper nothing is drawn, and there is nothing in it.
WaterRanges ranges_of_copper(const SolvedCaseWater& state, const DatasetPointer& dataset) {
  return state.has_copper ? ranges_of(state, dataset, {kDraws, 1, 1, Spreads::as_published})
                          : WaterRanges{};
}

template <class Result>
const Result* named(const std::vector<Result>& all, const std::string& name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Result& each) { return each.name == name; });
  return found == all.end() ? nullptr : &*found;
}

double found_in(const std::map<std::string, double>& figures, const std::string& name) {
  const auto found = figures.find(name);
  return found == figures.end() ? kNotGiven : found->second;
}

std::vector<SolidRow> solid_rows(const SolvedCaseWater& state,
                                 const std::vector<Standing>& standings,
                                 const WaterRanges& ranges) {
  std::vector<SolidRow> rows;
  for (const Standing& one : standings) {
    if (one.kind != PhaseKind::solid) continue;
    SolidRow row{one, kNotGiven, kNotGiven, kNotGiven};
    if (state.has_copper) {
      row.saturation_index = found_in(state.result.saturation_index, one.species);
      row.saturation_uncertainty = found_in(state.index_uncertainty, one.species);
      const SolidChance* chance = named(ranges.solids, one.species);
      if (chance != nullptr) row.chance = chance->as_published.probability;
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

// Nothing where the constants leave no doubt.
std::string chance_words(const SolidRow& row, bool copper_is_limit) {
  constexpr double kNone = 0.01;
  if (!(row.chance >= kNone && row.chance <= 1 - kNone)) return "";
  const std::string chance = fixed_text(row.chance, 2);
  return say("solids.standing.chance",
             {{"chance", copper_is_limit ? say("index.at_most", {{"index", chance}}) : chance}});
}

std::vector<std::string> cells(const SolidRow& row, const Species& species, bool copper_is_limit) {
  const Standing& one = row.standing;
  std::string words = standing_words(row, copper_is_limit);
  words += chance_words(row, copper_is_limit);
  if (!species.slow_to_form.empty()) words += say("solids.standing.slow_to_form");
  return {one.species, species.formula, index_words(row, copper_is_limit),
          one.gap_log10 == 0 ? "-" : plus_minus(one.gap_log10, one.gap_uncertainty_log10), words};
}

// What to read in print first, of the solid that comes first.
std::string carriers_words(const WaterRanges& ranges, const std::string& solid) {
  const FigureRange* index = named(ranges.saturation_index, solid);
  if (index == nullptr || index->carried_by.empty()) return "";
  std::vector<std::string> figures;
  for (const DoubtCarrier& carrier : index->carried_by)
    figures.push_back(
        say("solids.note.carrier", {{"figure", carrier.figure},
                                    {"reaction", carrier.subject},
                                    {"percent", fixed_text(100 * carrier.share, 0)}}));
  return say("solids.note.carried",
             {{"solid", solid}, {"figures", join(figures, say("solids.note.next_carrier"))}});
}

std::string draws_words(const WaterRanges& ranges, const std::string& first_solid) {
  double error = 0;
  for (const SolidChance& each : ranges.solids)
    error = std::max(error, each.as_published.standard_error);
  return say("solids.note.chance",
             {{"draws", std::to_string(ranges.draws)}, {"error", format_number(error, 1)}}) +
         carriers_words(ranges, first_solid);
}

std::string table_note(const SolvedCaseWater& state, std::size_t left_out,
                       const WaterRanges& ranges, const std::string& first_solid) {
  std::string note = say("solids.note.columns");
  if (!ranges.solids.empty()) note += draws_words(ranges, first_solid);
  if (left_out > 0) note += say("solids.note.left_out", {{"count", std::to_string(left_out)}});
  if (!state.has_copper) note += say("solids.note.copper_not_given");
  return note;
}

}  // namespace

CaseTable copper_solids(const SolvedCaseWater& state, const std::string& name,
                        const DatasetPointer& dataset, const std::vector<Standing>& standings) {
  const WaterRanges ranges = ranges_of_copper(state, dataset);
  CaseTable table;
  table.title = say("solids.title", {{"water", name}});
  table.columns = {say("column.solid"), say("column.formula"), say("column.saturation_index"),
                   say("solids.column.behind", {{"form", standings.front().species}}),
                   say("solids.column.standing")};
  std::size_t left_out = 0;
  for (const SolidRow& row : solid_rows(state, standings, ranges)) {
    if (worth_a_row(row)) {
      table.rows.push_back(cells(row, dataset->at(row.standing.species), state.copper_is_limit));
    } else {
      ++left_out;
    }
  }
  const std::string first = table.rows.empty() ? "" : table.rows.front().front();
  table.note = table_note(state, left_out, ranges, first);
  return table;
}

}  // namespace aeruca::detail
