#include <algorithm>
#include <cmath>

#include "aeruca/stability.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "casefile/copper_solids.hpp"
#include "casefile/diagrams.hpp"
#include "casefile/sentence.hpp"

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
  return name.empty() ? say("stable.water", {{"1", std::to_string(index + 1)}}) : name;
}

// The constants of copper compounds are used at the water's temperature only if all of them are
// known there.
double copper_temperature(const Dataset& dataset, double temperature_c, CaseSection& section) {
  const std::size_t unknown = copper_unknown_at(dataset, temperature_c);
  if (unknown == 0) return temperature_c;
  add_new(section.warnings,
          {say("stable.the_stability_of_the_copper",
               {{"1", format_number(temperature_c)}, {"2", std::to_string(unknown)}})});
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
  std::string text = say("stable.at_this_eh_copper_ii", {{"1", best.species}});
  if (!solid.empty() && solid != best.species)
    text += say("stable.and_of_the_solids_as", {{"1", solid}});
  return say("stable.and_nantokite_is_not_stable", {{"1", text}});
}

// Between nantokite and cuprite alone, where the Eh leaves copper(I) its place or is not known.
std::string boundary_words(double ph, const Boundary& boundary) {
  const double margin = 2 * boundary.uncertainty;
  if (ph > boundary.ph + margin) return say("stable.nantokite_would_give_way_to");
  if (ph < boundary.ph - margin) return say("stable.nantokite_may_persist_and_cuprite");
  return say("stable.the_constants_cannot_decide_between");
}

// A field holds for copper compounds as such; the index, for the copper dissolved in this water.
std::string saturation_words(const SolvedCaseWater& state) {
  const auto found = state.result.saturation_index.find("nantokite");
  if (!state.has_copper || found == state.result.saturation_index.end()) return "";
  const std::string most = state.copper_is_limit ? say("stable.at_most") : "";
  return say("stable.at_the_copper_dissolved_in",
             {{"1", std::string(found->second < 0 ? "dissolve" : say("stable.be_able_to_form"))},
              {"2", most},
              {"3", format_number(found->second, 2)}});
}

// Which solid copper(I) takes says nothing of whether it stays solid.
std::string dissolved_words(const Dataset& dataset, const PointAnswer& best) {
  if (dataset.at(best.species).kind == PhaseKind::solid) return "";
  return say("stable.as_long_as_the_water", {{"1", best.species}});
}

CaseFinding boundary_finding(const std::string& key, const Boundary& boundary,
                             const Boundary& pit) {
  CaseFinding finding = range_of(
      key + ".ph_nantokite_cuprite", say("label.stable.ph_nantokite_cuprite"), boundary.ph,
      boundary.ph - 2 * boundary.uncertainty, boundary.ph + 2 * boundary.uncertainty, "pH");
  finding.text = "pH " + plus_minus(boundary.ph, boundary.uncertainty);
  finding.note =
      say("stable.at_the_chloride_of_this", {{"1", plus_minus(pit.ph, pit.uncertainty)}});
  return finding;
}

// `most` is the answer at this Eh, or nothing where the Eh is not known.
void add_boundary(CaseSection& section, const DatasetPointer& dataset, const std::string& key,
                  double temperature_c, const SolvedCaseWater& state, const Most& most,
                  std::string& answer) {
  const double ph = state.result.ph;
  const Boundary boundary =
      nantokite_cuprite(dataset, temperature_c, log10_activity(state.result, "Cl(-)"));
  section.findings.push_back(
      boundary_finding(key, boundary, nantokite_cuprite(dataset, temperature_c, 0)));
  if (std::isnan(ph)) return;
  if (most.best.species.empty()) {
    answer += say("stable.at_this_ph_without_oxidation", {{"1", boundary_words(ph, boundary)}});
  } else if (reduced(*dataset, most.best.species)) {
    answer += say("stable.at_this_ph", {{"1", boundary_words(ph, boundary)},
                                        {"2", dissolved_words(*dataset, most.best)}});
  } else {
    answer +=
        say("stable.where_oxygen_is_kept_away",
            {{"1", oxidation_words(most.best, most.solid)}, {"2", boundary_words(ph, boundary)}});
  }
  answer += saturation_words(state);
  if (ph > boundary.ph + 2 * boundary.uncertainty) {
    answer += say("stable.where_it_is_found_all");
  }
}

void add_quality(CaseSection& section, const SolvedCaseWater& state, const std::string& key) {
  CaseFinding charge =
      figure_of(key + ".charge_error_percent", say("label.stable.charge_error_percent"),
                state.charge.error_percent, "%", 2);
  charge.note = std::abs(state.charge.error_percent) > 5
                    ? say("stable.more_than_5_an_ion")
                    : say("stable.cations_anions_cations_anions_within");
  if (state.charge.assigned_mol_per_kg != 0) {
    charge.note += say("stable.made_up_with_mmol_kg",
                       {{"1", format_number(1000 * state.charge.assigned_mol_per_kg, 3)},
                        {"2", state.water.charge_assigned_to}});
  }
  section.findings.push_back(charge);
  section.findings.push_back(figure_of(key + ".ionic_strength_mol_per_kg",
                                       say("label.stable.ionic_strength_mol_per_kg"),
                                       state.result.ionic_strength, "mol/kg"));
  section.findings.push_back(figure_of(key + ".log10_chloride_activity",
                                       say("label.stable.log10_chloride_activity"),
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
                           const SolvedCaseWater& state, const std::string& name, double coverage) {
  std::string text = say("stable.in_ph_eh_the_most", {{"1", name},
                                                      {"2", format_number(state.result.ph, 3)},
                                                      {"3", eh_words(water, state.potential)},
                                                      {"4", form_in_words(dataset, best.species)}});
  const bool outside = best.gap_log10 > coverage * best.uncertainty_log10;
  if (!best.runner_up.empty()) {
    text += outside ? say("stable.ahead_of") : say("stable.but_the_constants_do_not");
    text += form_in_words(dataset, best.runner_up);
  }
  return text + ".";
}

// The most stable one of the solids, by leaving out what stands before it; empty when there is
// none.
std::string first_solid(const DatasetPointer& dataset, FieldOptions options,
                        const SolvedCaseWater& state, const std::string& without = "") {
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
                   const SolvedCaseWater& state, const Most& most) {
  std::string text;
  if (!most.best.overtaken_by.empty()) {
    const Figure& other = dataset->figure(most.best.overtaking_figure);
    const bool outside = most.best.gap_log10 > options.coverage * most.best.uncertainty_log10;
    text += outside ? say("stable.that_is_decided_by_the") : say("stable.with_another_constant");
    text += say("stable.for_it_would_be", {{"1", other.id},
                                           {"2", other.source},
                                           {"3", format_number(other.value)},
                                           {"4", other.subject},
                                           {"5", form_in_words(*dataset, most.best.overtaken_by)}});
  }
  if (!most.solid.empty() && !dataset->at(most.solid).slow_to_form.empty()) {
    const std::string next = first_solid(dataset, options, state, most.solid);
    text += say("stable.the_most_stable_solid_is", {{"1", most.solid}});
    text += next.empty() ? "." : say("stable.without_it", {{"1", next}});
  }
  return text;
}

Most add_fields(CaseSection& section, const CaseWater& water, const SolvedCaseWater& state,
                const DatasetPointer& dataset, const std::string& key, const std::string& name,
                double temperature_c, std::string& answer) {
  CaseFinding eh = figure_of(key + ".eh_v", say("label.stable.eh_v"), state.potential.eh_v, "V");
  eh.text = eh_words(water, state.potential);
  eh.note = state.potential.said;
  section.findings.push_back(eh);
  const FieldOptions options = fields_of(state, temperature_c);
  const FieldModel model(dataset, options);
  const Most most{model.at(state.result.ph, state.potential.eh_v),
                  first_solid(dataset, options, state)};
  const PointAnswer& best = most.best;
  CaseFinding finding =
      words_of(key + ".most_stable", say("label.stable.most_stable"), best.species);
  finding.note = say("stable.next_is_behind_by_kj",
                     {{"1", best.runner_up}, {"2", format_number(best.gap_kj_per_mol_copper, 2)}});
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
    section.missing.emplace_back(say("stable.ph_of", {{"1", name}}));
    return;
  }
  const SolvedCaseWater state = solve_water(file, water.analysis, key, dataset);
  add_warnings(section, state.result.warnings);
  add_estimates(section, state.result.remarks.size());
  if (state.result.status != Status::converged || !std::isfinite(state.result.ph)) {
    mark_no_answer(section,
                   name + ": " +
                       (state.result.message.empty() ? say("stable.the_amounts_are_too_small")
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
    section.missing.emplace_back(say("stable.eh_mv_or_aerated_of", {{"1", name}}));
  }
  const double chloride = log10_activity(state.result, "Cl(-)");
  if (std::isfinite(chloride)) {
    add_boundary(section, dataset, key, temperature_c, state, most, said);
  } else {
    section.missing.emplace_back(say("stable.chloride_mg_per_l_of", {{"1", name}}));
  }
  add_quality(section, state, key);
  for (std::size_t i = first_finding; i < section.findings.size(); ++i)
    section.findings[i].label = with_name(file, name, section.findings[i].label);
  if (!state.water.missing.empty()) {
    section.remarks.emplace_back(say("stable.not_given_for_and_taken",
                                     {{"1", name}, {"2", join(state.water.missing, ", ")}}));
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
  section.title = say("section.stable.title");
  section.question = say("section.stable.question");
  for (std::size_t i = 0; i < file.waters.size(); ++i) assess_water(answer, file, i, dataset);
  if (file.pit.given || !answer.diagrams.empty())
    answer.diagrams.push_back(pit_diagram(file.pit, dataset));
  if (file.waters.empty()) section.missing.emplace_back(say("stable.a_water_with_ph_chloride"));
  if (section.answer.empty()) {
    section.answer = say("stable.no_water_with_a_ph");
  } else if (!section.missing.empty() && section.status == SectionStatus::answered) {
    section.status = SectionStatus::partly;
  }
  section.remarks.emplace_back(say("stable.a_stable_field_says_what"));
  return answer;
}

}  // namespace aeruca::detail
