#include <algorithm>
#include <cmath>

#include "aeruca/stability.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "casefile/copper_solids.hpp"
#include "casefile/diagrams.hpp"

namespace aeruca::detail {
namespace {

// Name of a finding: "water[2].ph_nantokite_cuprite", as the keys of the file.
std::string water_key(const CaseFile& file, std::size_t index) {
  return file.waters.size() == 1 ? "water" : "water[" + std::to_string(index + 1) + "]";
}

// What sets a water's findings apart where there are several: "find spot: ionic strength".
std::string with_name(const CaseFile& file, const std::string& name, std::string label) {
  return file.waters.size() == 1 ? label : name + ": " + std::move(label);
}

std::string water_name(const CaseFile& file, std::size_t index) {
  const std::string& name = file.waters[index].name;
  return name.empty() ? "water " + std::to_string(index + 1) : name;
}

// The constants of copper compounds are used at the water's temperature only if all of them are
// known there.
double copper_temperature(const Dataset& dataset, double temperature_c, CaseSection& section) {
  const std::size_t unknown = copper_unknown_at(dataset, temperature_c);
  if (unknown == 0) return temperature_c;
  add_new(section.warnings,
          {"The stability of the copper compounds is taken at 25 degrees C, not at " +
           format_number(temperature_c) + ": the heat of formation of " + std::to_string(unknown) +
           " of them is not in the data set."});
  return 25;
}

// The most stable form at the water's pH and Eh, and of the solids the most stable.
struct Most {
  PointAnswer best;
  std::string solid;
};

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

// Copper(I) or the metal: made from Cu(2+) with electrons.
bool reduced(const Dataset& dataset, const std::string& species) {
  return dataset.at(species).components[dataset.component_index("e(-)")] != 0;
}

// What the copper(II) forms do to nantokite, whatever the pH.
std::string oxidation_words(const PointAnswer& best, const std::string& solid) {
  std::string text = "At this Eh copper(II) comes first, as " + best.species;
  if (!solid.empty() && solid != best.species) text += " and of the solids as " + solid;
  return text + ", and nantokite is not stable" +
         ". With oxygen and water it is oxidised, to a trihydroxychloride for instance: 4 CuCl + "
         "O2 + "
         "4 H2O = 2 Cu2(OH)3Cl + 2 H(+) + 2 Cl(-).";
}

// Between nantokite and cuprite alone, where the Eh leaves copper(I) its place or is not known.
std::string boundary_words(double ph, const Boundary& boundary) {
  const double margin = 2 * boundary.uncertainty;
  if (ph > boundary.ph + margin) return "nantokite would give way to cuprite in endless time";
  if (ph < boundary.ph - margin) return "nantokite may persist and cuprite would give way to it";
  return "the constants cannot decide between nantokite and cuprite";
}

// A field holds for copper compounds as such; the index, for the copper dissolved in this water.
std::string saturation_words(const WaterState& state) {
  const auto found = state.result.saturation_index.find("nantokite");
  if (!state.has_copper || found == state.result.saturation_index.end()) return "";
  const std::string most = state.copper_is_limit ? "at most " : "";
  return " At the copper dissolved in this water it would " +
         std::string(found->second < 0 ? "dissolve" : "be able to form") + " (saturation index " +
         most + format_number(found->second, 2) + ").";
}

// Which solid copper(I) takes says nothing of whether it stays solid.
std::string dissolved_words(const Dataset& dataset, const PointAnswer& best) {
  if (dataset.at(best.species).kind == PhaseKind::solid) return "";
  return ", as long as the water about it holds more copper than the activity of 1e-6 set here: at "
         "that it dissolves as " +
         best.species;
}

CaseFinding boundary_finding(const std::string& key, const Boundary& boundary,
                             const Boundary& pit) {
  CaseFinding finding = range_of(
      key + ".ph_nantokite_cuprite", "nantokite gives way to cuprite above", boundary.ph,
      boundary.ph - 2 * boundary.uncertainty, boundary.ph + 2 * boundary.uncertainty, "pH");
  finding.text = "pH " + plus_minus(boundary.ph, boundary.uncertainty);
  finding.note =
      "at the chloride of this water, without oxidation; at chloride activity 1, as in a pit, "
      "above pH " +
      plus_minus(pit.ph, pit.uncertainty) +
      ". Each with one standard uncertainty. Other sources put it up to 0.35 lower.";
  return finding;
}

// `most` is the answer at this Eh, or nothing where the Eh is not known.
void add_boundary(CaseSection& section, const DatasetPointer& dataset, const std::string& key,
                  double temperature_c, const WaterState& state, const Most& most,
                  std::string& answer) {
  const double ph = state.result.ph;
  const Boundary boundary =
      nantokite_cuprite(dataset, temperature_c, log10_activity(state.result, "Cl(-)"));
  section.findings.push_back(
      boundary_finding(key, boundary, nantokite_cuprite(dataset, temperature_c, 0)));
  if (std::isnan(ph)) return;
  if (most.best.species.empty()) {
    answer += " At this pH, without oxidation, " + boundary_words(ph, boundary) + ".";
  } else if (reduced(*dataset, most.best.species)) {
    answer +=
        " At this pH " + boundary_words(ph, boundary) + dissolved_words(*dataset, most.best) + ".";
  } else {
    answer += " " + oxidation_words(most.best, most.solid) +
              " Where oxygen is kept away, at this pH " + boundary_words(ph, boundary) + ".";
  }
  answer += saturation_words(state);
  if (ph > boundary.ph + 2 * boundary.uncertainty) {
    answer += " Where it is found all the same, acid and chloride in the pits keep it.";
  }
}

void add_quality(CaseSection& section, const WaterState& state, const std::string& key) {
  CaseFinding charge = figure_of(key + ".charge_error_percent", "charge balance of the analysis",
                                 state.charge.error_percent, "%", 2);
  charge.note = std::abs(state.charge.error_percent) > 5
                    ? "more than 5 %: an ion is missing or a reading is wrong"
                    : "(cations - anions) / (cations + anions); within 5 % is usual";
  if (state.charge.assigned_mol_per_kg != 0) {
    charge.note += "; made up with " + format_number(1000 * state.charge.assigned_mol_per_kg, 3) +
                   " mmol/kg of " + state.water.charge_assigned_to;
  }
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

std::string eh_words(const CaseWater& water, const Potential& potential) {
  return plus_minus(potential.eh_v,
                    water.analysis.oxygen_bar ? kNotGiven : potential.uncertainty_v) +
         " V";
}

std::string point_sentence(const Dataset& dataset, const PointAnswer& best, const CaseWater& water,
                           const WaterState& state, const std::string& name, double coverage) {
  std::string text = "In " + name + " (pH " + format_number(state.result.ph, 3) + ", Eh " +
                     eh_words(water, state.potential) + ") the most stable form of copper is " +
                     form_in_words(dataset, best.species);
  const bool outside = best.gap_log10 > coverage * best.uncertainty_log10;
  if (!best.runner_up.empty()) {
    text += outside ? ", ahead of " : ", but the constants do not decide between it and ";
    text += form_in_words(dataset, best.runner_up);
  }
  return text + ".";
}

// The most stable one of the solids, by leaving out what stands before it; empty when there is
// none.
std::string first_solid(const DatasetPointer& dataset, FieldOptions options,
                        const WaterState& state, const std::string& without = "") {
  if (!without.empty()) options.left_out.push_back({without, ""});
  const std::size_t many = FieldModel(dataset, options).candidates().size();
  for (std::size_t i = 0; i + 1 < many; ++i) {
    const PointAnswer answer = stable_at(dataset, options, state.result.ph, state.potential.eh_v);
    if (dataset->at(answer.species).kind == PhaseKind::solid) return answer.species;
    options.left_out.push_back({answer.species, ""});
  }
  return "";
}

// Two doubts: another published constant, and a solid that is slow to form.
std::string doubts(const DatasetPointer& dataset, const FieldOptions& options,
                   const WaterState& state, const Most& most) {
  std::string text;
  if (!most.best.overtaken_by.empty()) {
    const Figure& other = dataset->figure(most.best.overtaking_figure);
    const bool outside = most.best.gap_log10 > options.coverage * most.best.uncertainty_log10;
    text += outside ? " That is decided by the chosen constants only: with "
                    : " With another constant, ";
    text += other.id + " (" + other.source + ", " + format_number(other.value) + " for " +
            other.subject + ") it would be " + form_in_words(*dataset, most.best.overtaken_by) +
            ".";
  }
  if (!most.solid.empty() && !dataset->at(most.solid).slow_to_form.empty()) {
    const std::string next = first_solid(dataset, options, state, most.solid);
    text += " The most stable solid, " + most.solid + ", is slow to form";
    text += next.empty() ? "." : "; without it: " + next + ".";
  }
  return text;
}

Most add_fields(CaseSection& section, const CaseWater& water, const WaterState& state,
                const DatasetPointer& dataset, const std::string& key, const std::string& name,
                double temperature_c, std::string& answer) {
  CaseFinding eh =
      figure_of(key + ".eh_v", "potential against hydrogen", state.potential.eh_v, "V");
  eh.text = eh_words(water, state.potential);
  eh.note = state.potential.said;
  section.findings.push_back(eh);
  const FieldOptions options = fields_of(state, temperature_c);
  const FieldModel model(dataset, options);
  const Most most{model.at(state.result.ph, state.potential.eh_v),
                  first_solid(dataset, options, state)};
  const PointAnswer& best = most.best;
  CaseFinding finding = words_of(key + ".most_stable", "most stable form of copper", best.species);
  finding.note = "next is " + best.runner_up + ", behind by " +
                 format_number(best.gap_kj_per_mol_copper, 2) +
                 " kJ per mole of copper; dissolved copper is set at activity 1e-6 each";
  section.findings.push_back(finding);
  answer += (answer.empty() ? "" : " ") +
            point_sentence(*dataset, best, water, state, name, options.coverage) +
            doubts(dataset, options, state, most);
  add_new(section.figures, model.diagram().figures);
  section.tables.push_back(copper_solids(state, name, dataset, options, best));
  return most;
}

void assess_water(StableAnswer& answer, const CaseFile& file, std::size_t index,
                  const DatasetPointer& dataset) {
  CaseSection& section = answer.section;
  const CaseWater& water = file.waters[index];
  const std::string key = water_key(file, index);
  const std::string name = water_name(file, index);
  check_names(file, water.analysis, key, *dataset);
  if (!water.analysis.ph.detected()) {
    section.missing.emplace_back("ph of " + name);
    return;
  }
  const WaterState state = solve_water(file, water.analysis, key, dataset);
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
  const double temperature_c = copper_temperature(*dataset, water.analysis.temperature_c, section);
  answer.points.push_back(point_of(water, state, name));
  std::string said;
  Most most;
  const std::size_t first_finding = section.findings.size();
  if (state.potential.known) {
    most = add_fields(section, water, state, dataset, key, name, temperature_c, said);
  } else {
    section.missing.emplace_back("eh_mv or aerated of " + name +
                                 ": without it no oxide can be told from the metal");
  }
  const double chloride = log10_activity(state.result, "Cl(-)");
  if (std::isfinite(chloride)) {
    add_boundary(section, dataset, key, temperature_c, state, most, said);
  } else {
    section.missing.emplace_back("chloride_mg_per_l of " + name);
  }
  add_quality(section, state, key);
  for (std::size_t i = first_finding; i < section.findings.size(); ++i)
    section.findings[i].label = with_name(file, name, section.findings[i].label);
  if (!state.water.missing.empty()) {
    section.remarks.emplace_back("Not given for " + name +
                                 " and taken as absent: " + join(state.water.missing, ", ") + ".");
  }
  for (const std::string& assumed : state.water.assumed)
    section.remarks.push_back(as_sentence(assumed));
  if (section.status == SectionStatus::missing) section.status = SectionStatus::answered;
  section.answer += (section.answer.empty() ? "" : " ") + said;
  if (!said.empty()) answer.in_short.push_back(said.substr(0, said.find(". ") + 1));
  if (state.potential.known)
    answer.diagrams.push_back(
        diagram_of(answer.points.back(), fields_of(state, temperature_c), dataset));
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
  if (file.pit.given || !answer.diagrams.empty())
    answer.diagrams.push_back(pit_diagram(file.pit, dataset));
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
