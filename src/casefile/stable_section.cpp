#include <algorithm>
#include <map>

#include "aeruca/stability.hpp"
#include "base/text.hpp"
#include "casefile/water_state.hpp"

namespace aeruca::detail {
namespace {

// Name of a finding: "water[2].ph_nantokite_cuprite", as the keys of the file.
std::string water_key(const CaseFile& file, std::size_t index) {
  return file.waters.size() == 1 ? "water" : "water[" + std::to_string(index + 1) + "]";
}

std::string water_name(const CaseFile& file, std::size_t index) {
  const std::string& name = file.waters[index].name;
  return name.empty() ? "water " + std::to_string(index + 1) : name;
}

double log10_activity(const EquilibriumResult& result, const std::string& species) {
  const auto found = std::find(result.species.begin(), result.species.end(), species);
  if (found == result.species.end()) return kNotGiven;
  return result.log10_activity[static_cast<std::size_t>(found - result.species.begin())];
}

bool holds_copper(const Dataset& dataset, const Species& species) {
  return species.components[dataset.component_index("Cu(2+)")] > 0;
}

// The constants of copper compounds are used at the water's temperature only if all of them are known there.
double copper_temperature(const Dataset& dataset, double temperature_c, CaseSection& section) {
  std::size_t unknown = 0;
  for (const Species& species : dataset.species) {
    if (holds_copper(dataset, species) && !Dataset::log10_k_known_at(species, temperature_c)) ++unknown;
  }
  if (unknown == 0) return temperature_c;
  add_new(section.warnings, {"The stability of the copper compounds is taken at 25 degrees C, not at " +
                             format_number(temperature_c) + ": the heat of formation of " +
                             std::to_string(unknown) + " of them is not in the data set."});
  return 25;
}

// Of whichever form of dissolved carbonate predominates; NaN without any.
double log10_carbonate(const EquilibriumResult& result) {
  double most = kNotGiven;
  for (const char* form : {"CO2(aq)", "HCO3(-)", "CO3(2-)"}) {
    const double activity = log10_activity(result, form);
    if (std::isfinite(activity) && !(activity <= most)) most = activity;
  }
  return most;
}

// The plane of pH and Eh at the activities of this water. Carbonate is held in its predominant form, so
// that the fields stay whole when their constants are those of another temperature than the water's.
FieldOptions fields_of(const WaterState& state, double temperature_c) {
  FieldOptions options;
  options.temperature_c = temperature_c;
  for (const char* ligand : {"Cl(-)", "SO4(2-)"}) {
    const double activity = log10_activity(state.result, ligand);
    if (std::isfinite(activity)) options.log10_activity[ligand] = activity;
  }
  const double carbonate = log10_carbonate(state.result);
  if (!std::isnan(carbonate)) options.log10_ligand["CO3(2-)"] = carbonate;
  return options;
}

struct Boundary {
  double ph = kNotGiven;
  double uncertainty = kNotGiven;
};

// 2 nantokite + H2O = cuprite + 2 H(+) + 2 Cl(-): upright in the plane, whatever the potential.
Boundary nantokite_cuprite(const DatasetPointer& dataset, double temperature_c, double log10_chloride) {
  FieldOptions options;
  options.temperature_c = temperature_c;
  options.x.low = -2;
  options.x.high = 16;
  options.log10_activity["Cl(-)"] = log10_chloride;
  options.only = {"nantokite", "cuprite"};
  const FieldDiagram diagram = field_diagram(dataset, options);
  if (diagram.edges.empty()) return {};
  return {diagram.edges.front().line.vertical_x, diagram.edges.front().line.uncertainty};
}

std::string plus_minus(double value, double uncertainty, int digits = 3) {
  if (std::isnan(uncertainty)) return format_number(value, digits);
  return format_number(value, digits) + " +/- " + format_number(uncertainty, 1);
}

std::string boundary_words(double ph, const Boundary& boundary) {
  const double margin = 2 * boundary.uncertainty;
  if (ph > boundary.ph + margin) {
    return "At this pH nantokite is not stable: in endless time it would give way to cuprite. Where it is "
           "found all the same, acid and chloride in the pits keep it.";
  }
  if (ph < boundary.ph - margin) return "At this pH nantokite may persist beside the copper.";
  return "The pH lies so close to the boundary of nantokite and cuprite that the constants cannot decide.";
}

void add_boundary(CaseSection& section, const DatasetPointer& dataset, const std::string& key,
                  double log10_chloride, double temperature_c, double ph, std::string& answer) {
  const Boundary boundary = nantokite_cuprite(dataset, temperature_c, log10_chloride);
  const Boundary pit = nantokite_cuprite(dataset, temperature_c, 0);
  CaseFinding finding = range_of(key + ".ph_nantokite_cuprite", "nantokite gives way to cuprite above",
                                 boundary.ph, boundary.ph - 2 * boundary.uncertainty,
                                 boundary.ph + 2 * boundary.uncertainty, "pH");
  finding.note = "at the chloride of this water; at chloride activity 1, as in a pit, above pH " +
                 plus_minus(pit.ph, pit.uncertainty) + ". Other sources put it up to 0.35 lower.";
  section.findings.push_back(finding);
  if (!std::isnan(ph)) answer += " " + boundary_words(ph, boundary);
}

struct SolidRow {
  const Species* species;
  double gap;               // log10 per copper atom behind the most stable form; 0 for that form itself
  double gap_uncertainty;
  double saturation_index;  // NaN without copper
  double saturation_uncertainty;
};

// Uncertainty of a saturation index: readings shifted one at a time, and the solid's own constant.
std::map<std::string, double> saturation_uncertainty(const CaseWater& water, const WaterState& state,
                                                     const DatasetPointer& dataset) {
  std::map<std::string, double> squares;
  const std::vector<WaterShift> shifts{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}};
  for (const WaterShift& shift : shifts) {
    const WaterState moved = solve_water(water, state.potential, dataset, shift);
    if (moved.result.status != Status::converged) continue;
    for (const auto& [solid, index] : moved.result.saturation_index) {
      const auto base = state.result.saturation_index.find(solid);
      if (base != state.result.saturation_index.end()) squares[solid] += std::pow(index - base->second, 2);
    }
  }
  for (auto& [solid, square] : squares) {
    square = std::sqrt(square + std::pow(dataset->at(solid).log10_k_uncertainty, 2));
  }
  return squares;
}

bool within_components(const Dataset& dataset, const Species& species, const FieldOptions& options) {
  for (std::size_t j = 0; j < dataset.components.size(); ++j) {
    const std::string& component = dataset.components[j];
    const bool always = component == "H2O" || component == "H(+)" || component == "e(-)" || component == "Cu(2+)";
    const bool held = options.log10_activity.contains(component) || options.log10_ligand.contains(component);
    if (species.components[j] != 0 && !always && !held) return false;
  }
  return true;
}

std::vector<SolidRow> solid_rows(const CaseWater& water, const WaterState& state, const DatasetPointer& dataset,
                                 const FieldOptions& options, const PointAnswer& best) {
  std::vector<SolidRow> rows;
  const auto uncertainties = state.has_copper ? saturation_uncertainty(water, state, dataset)
                                              : std::map<std::string, double>{};
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
      const auto found = uncertainties.find(species.name);
      if (found != uncertainties.end()) row.saturation_uncertainty = found->second;
    }
    rows.push_back(row);
  }
  std::stable_sort(rows.begin(), rows.end(), [](const SolidRow& a, const SolidRow& b) { return a.gap < b.gap; });
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
  static const std::vector<std::string> asked{"copper",         "cuprite",   "tenorite",     "nantokite",
                                              "clinoatacamite", "atacamite", "botallackite", "malachite"};
  constexpr double kNear = 1;  // log10 per copper atom
  return row.gap < kNear || std::find(asked.begin(), asked.end(), row.species->name) != asked.end();
}

CaseTable solids_table(const std::vector<SolidRow>& rows, const WaterState& state, const std::string& name,
                       const PointAnswer& best) {
  CaseTable table;
  table.title = "Copper solids in " + name;
  table.columns = {"solid", "formula", "saturation index", "behind " + best.species, "in endless time"};
  std::size_t further = 0;
  for (const SolidRow& row : rows) {
    if (!worth_a_row(row)) {
      ++further;
      continue;
    }
    const std::string index = std::isnan(row.saturation_index)
                                  ? "not known"
                                  : std::string(state.copper_is_limit ? "at most " : "") +
                                        plus_minus(row.saturation_index, row.saturation_uncertainty);
    std::string words = standing(row, state.copper_is_limit);
    if (!row.species->slow_to_form.empty()) words += "; slow to form";
    table.rows.push_back({row.species->name, row.species->formula, index,
                          row.gap == 0 ? "-" : plus_minus(row.gap, row.gap_uncertainty, 2), words});
  }
  table.note = "Saturation index: log10 of supersaturation (above 0 may form). Behind: log10 units per copper "
               "atom, with one standard uncertainty.";
  if (further > 0) table.note += " " + std::to_string(further) + " solids further behind are left out.";
  if (!state.has_copper) table.note += " Copper in the water was not given, so saturation cannot be told.";
  return table;
}

void add_quality(CaseSection& section, const WaterState& state, const std::string& key) {
  CaseFinding charge = figure_of(key + ".charge_error_percent", "charge balance of the analysis",
                                 state.charge_error_percent, "%", 2);
  charge.note = std::abs(state.charge_error_percent) > 5
                    ? "more than 5 %: an ion is missing or a reading is wrong"
                    : "(cations - anions) / (cations + anions); within 5 % is usual";
  section.findings.push_back(charge);
  section.findings.push_back(figure_of(key + ".ionic_strength_mol_per_kg", "ionic strength",
                                       state.result.ionic_strength, "mol/kg"));
  section.findings.push_back(figure_of(key + ".log10_chloride_activity", "chloride, log10 of activity",
                                       log10_activity(state.result, "Cl(-)"), ""));
}

std::string form_in_words(const Dataset& dataset, const std::string& species) {
  return dataset.at(species).kind == PhaseKind::solid ? species : "dissolved " + species;
}

std::string point_sentence(const Dataset& dataset, const PointAnswer& best, const WaterState& state,
                           const std::string& name) {
  std::string text = "In " + name + " (pH " + format_number(state.result.ph, 3) + ", Eh " +
                     format_number(state.potential.eh_v, 3) + " V) the most stable form of copper is " +
                     form_in_words(dataset, best.species);
  if (!best.runner_up.empty()) {
    text += best.decided ? ", ahead of " : ", but the constants do not decide between it and ";
    text += form_in_words(dataset, best.runner_up);
  }
  return text + ".";
}

void add_fields(CaseSection& section, const CaseWater& water, const WaterState& state,
                const DatasetPointer& dataset, const std::string& key, const std::string& name,
                double temperature_c, std::string& answer) {
  section.findings.push_back(noted(figure_of(key + ".eh_v", "potential against hydrogen", state.potential.eh_v, "V"),
                                   state.potential.said));
  const FieldOptions options = fields_of(state, temperature_c);
  const FieldModel model(dataset, options);
  const PointAnswer best = model.at(state.result.ph, state.potential.eh_v);
  CaseFinding finding = words_of(key + ".most_stable", "most stable form of copper", best.species);
  finding.note = "next is " + best.runner_up + ", behind by " + format_number(best.gap_kj_per_mol_copper, 3) +
                 " kJ per mole of copper; dissolved copper is set at activity 1e-6 each";
  section.findings.push_back(finding);
  answer += (answer.empty() ? "" : " ") + point_sentence(*dataset, best, state, name);
  add_new(section.figures, model.diagram().figures);
  section.tables.push_back(solids_table(solid_rows(water, state, dataset, options, best), state, name, best));
}

CaseWaterPoint point_of(const CaseWater& water, const WaterState& state, const std::string& name) {
  CaseWaterPoint point;
  point.name = name;
  point.temperature_c = water.temperature_c;
  point.ph = state.result.ph;
  if (state.potential.known) {
    point.eh_v = state.potential.eh_v;
    point.eh_uncertainty_v = state.potential.uncertainty_v;
  }
  for (const char* ligand : {"Cl(-)", "SO4(2-)"}) {
    const double activity = log10_activity(state.result, ligand);
    if (std::isfinite(activity)) point.log10_activity[ligand] = activity;
  }
  point.log10_carbonate = log10_carbonate(state.result);
  return point;
}

void assess_water(StableAnswer& answer, const CaseFile& file, std::size_t index, const DatasetPointer& dataset) {
  CaseSection& section = answer.section;
  const CaseWater& water = file.waters[index];
  const std::string key = water_key(file, index);
  const std::string name = water_name(file, index);
  const Potential potential = potential_of(file, water, key, *dataset);
  if (!potential.figure.empty()) add_new(section.figures, {potential.figure});
  if (!water.ph.detected()) {
    section.missing.push_back("ph of " + name);
    return;
  }
  const WaterState state = solve_water(water, potential, dataset);
  add_warnings(section, state.result.warnings);
  if (state.result.status != Status::converged || !std::isfinite(state.result.ph)) {
    mark_no_answer(section, name + ": " + (state.result.message.empty() ? "the amounts are too small to solve for"
                                                                        : state.result.message));
    return;
  }
  add_new(section.figures, state.result.figures);
  const double temperature_c = copper_temperature(*dataset, water.temperature_c, section);
  answer.points.push_back(point_of(water, state, name));
  std::string said;
  if (potential.known) {
    add_fields(section, water, state, dataset, key, name, temperature_c, said);
  } else {
    section.missing.push_back("eh_mv or aerated of " + name + ": without it no oxide can be told from the metal");
  }
  const double chloride = log10_activity(state.result, "Cl(-)");
  if (std::isfinite(chloride)) {
    add_boundary(section, dataset, key, chloride, temperature_c, state.result.ph, said);
  } else {
    section.missing.push_back("chloride_mg_per_l of " + name);
  }
  add_quality(section, state, key);
  if (!state.absent.empty()) {
    section.remarks.push_back("Not given for " + name + " and taken as absent: " + join(state.absent, ", ") + ".");
  }
  if (section.status == SectionStatus::missing) section.status = SectionStatus::answered;
  section.answer += (section.answer.empty() ? "" : " ") + said;
}

}  // namespace

StableAnswer stable_section(const CaseFile& file, const DatasetPointer& dataset) {
  StableAnswer answer;
  CaseSection& section = answer.section;
  section.id = "stable";
  section.title = "What is stable";
  section.question = "Which forms of copper may exist in the waters of this object, in endless time?";
  for (std::size_t i = 0; i < file.waters.size(); ++i) assess_water(answer, file, i, dataset);
  if (file.waters.empty()) section.missing.push_back("a [[water]] with ph, chloride and eh_mv");
  if (section.answer.empty()) {
    section.answer = "No water with a pH is given, so no equilibrium can be worked out.";
  } else if (!section.missing.empty() && section.status == SectionStatus::answered) {
    section.status = SectionStatus::partly;
  }
  section.remarks.push_back("A stable field says what may form in endless time, not what forms this week. "
                            "A trihydroxychloride on the surface does not by itself prove active decay: "
                            "published views differ.");
  return answer;
}

}  // namespace aeruca::detail
