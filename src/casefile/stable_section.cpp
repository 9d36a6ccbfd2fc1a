#include <algorithm>

#include "aeruca/stability.hpp"
#include "base/text.hpp"
#include "casefile/copper_solids.hpp"

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

// The constants of copper compounds are used at the water's temperature only if all of them are
// known there.
double copper_temperature(const Dataset& dataset, double temperature_c, CaseSection& section) {
  std::size_t unknown = 0;
  for (const Species& species : dataset.species) {
    if (holds_copper(dataset, species) && !Dataset::log10_k_known_at(species, temperature_c))
      ++unknown;
  }
  if (unknown == 0) return temperature_c;
  add_new(section.warnings,
          {"The stability of the copper compounds is taken at 25 degrees C, not at " +
           format_number(temperature_c) + ": the heat of formation of " + std::to_string(unknown) +
           " of them is not in the data set."});
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

// The plane of pH and Eh at the activities of this water. Carbonate is held in its predominant
// form, so that the fields stay whole when their constants are those of another temperature than
// the water's.
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
Boundary nantokite_cuprite(const DatasetPointer& dataset, double temperature_c,
                           double log10_chloride) {
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

std::string boundary_words(double ph, const Boundary& boundary) {
  const double margin = 2 * boundary.uncertainty;
  if (ph > boundary.ph + margin) {
    return "At this pH nantokite is not stable: in endless time it would give way to cuprite. "
           "Where it is found all the same, acid and chloride in the pits keep it.";
  }
  if (ph < boundary.ph - margin) return "At this pH nantokite may persist beside the copper.";
  return "The pH lies so close to the boundary of nantokite and cuprite that the constants cannot "
         "decide.";
}

void add_boundary(CaseSection& section, const DatasetPointer& dataset, const std::string& key,
                  double log10_chloride, double temperature_c, double ph, std::string& answer) {
  const Boundary boundary = nantokite_cuprite(dataset, temperature_c, log10_chloride);
  const Boundary pit = nantokite_cuprite(dataset, temperature_c, 0);
  CaseFinding finding = range_of(
      key + ".ph_nantokite_cuprite", "nantokite gives way to cuprite above", boundary.ph,
      boundary.ph - 2 * boundary.uncertainty, boundary.ph + 2 * boundary.uncertainty, "pH");
  finding.note = "at the chloride of this water; at chloride activity 1, as in a pit, above pH " +
                 plus_minus(pit.ph, pit.uncertainty) + ". Other sources put it up to 0.35 lower.";
  section.findings.push_back(finding);
  if (!std::isnan(ph)) answer += " " + boundary_words(ph, boundary);
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
  section.findings.push_back(figure_of(key + ".log10_chloride_activity",
                                       "chloride, log10 of activity",
                                       log10_activity(state.result, "Cl(-)"), ""));
}

std::string form_in_words(const Dataset& dataset, const std::string& species) {
  return dataset.at(species).kind == PhaseKind::solid ? species : "dissolved " + species;
}

std::string point_sentence(const Dataset& dataset, const PointAnswer& best, const WaterState& state,
                           const std::string& name) {
  std::string text = "In " + name + " (pH " + format_number(state.result.ph, 3) + ", Eh " +
                     format_number(state.potential.eh_v, 3) +
                     " V) the most stable form of copper is " +
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
  section.findings.push_back(
      noted(figure_of(key + ".eh_v", "potential against hydrogen", state.potential.eh_v, "V"),
            state.potential.said));
  const FieldOptions options = fields_of(state, temperature_c);
  const FieldModel model(dataset, options);
  const PointAnswer best = model.at(state.result.ph, state.potential.eh_v);
  CaseFinding finding = words_of(key + ".most_stable", "most stable form of copper", best.species);
  finding.note = "next is " + best.runner_up + ", behind by " +
                 format_number(best.gap_kj_per_mol_copper, 3) +
                 " kJ per mole of copper; dissolved copper is set at activity 1e-6 each";
  section.findings.push_back(finding);
  answer += (answer.empty() ? "" : " ") + point_sentence(*dataset, best, state, name);
  add_new(section.figures, model.diagram().figures);
  section.tables.push_back(copper_solids(water, state, name, dataset, options, best));
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

void assess_water(StableAnswer& answer, const CaseFile& file, std::size_t index,
                  const DatasetPointer& dataset) {
  CaseSection& section = answer.section;
  const CaseWater& water = file.waters[index];
  const std::string key = water_key(file, index);
  const std::string name = water_name(file, index);
  const Potential potential = potential_of(file, water, key, *dataset);
  if (!potential.figure.empty()) add_new(section.figures, {potential.figure});
  if (!water.ph.detected()) {
    section.missing.emplace_back("ph of " + name);
    return;
  }
  const WaterState state = solve_water(water, potential, dataset);
  add_warnings(section, state.result.warnings);
  add_estimates(section, state.result.remarks.size());
  if (state.result.status != Status::converged || !std::isfinite(state.result.ph)) {
    mark_no_answer(section,
                   name + ": " +
                       (state.result.message.empty() ? "the amounts are too small to solve for"
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
    section.missing.emplace_back("eh_mv or aerated of " + name +
                                 ": without it no oxide can be told from the metal");
  }
  const double chloride = log10_activity(state.result, "Cl(-)");
  if (std::isfinite(chloride)) {
    add_boundary(section, dataset, key, chloride, temperature_c, state.result.ph, said);
  } else {
    section.missing.emplace_back("chloride_mg_per_l of " + name);
  }
  add_quality(section, state, key);
  if (!state.absent.empty()) {
    section.remarks.emplace_back("Not given for " + name +
                                 " and taken as absent: " + join(state.absent, ", ") + ".");
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
  section.question =
      "Which forms of copper may exist in the waters of this object, in endless time?";
  for (std::size_t i = 0; i < file.waters.size(); ++i) assess_water(answer, file, i, dataset);
  if (file.waters.empty()) section.missing.emplace_back("a [[water]] with ph, chloride and eh_mv");
  if (section.answer.empty()) {
    section.answer = "No water with a pH is given, so no equilibrium can be worked out.";
  } else if (!section.missing.empty() && section.status == SectionStatus::answered) {
    section.status = SectionStatus::partly;
  }
  section.remarks.emplace_back(
      "A stable field says what may form in endless time, not what forms this week. A "
      "trihydroxychloride on the surface does not by itself prove active decay: published views "
      "differ.");
  return answer;
}

}  // namespace aeruca::detail
