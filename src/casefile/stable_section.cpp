#include <algorithm>
#include <cmath>
#include <optional>

#include "aeruca/stability.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
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
  return name.empty() ? say("stable.water_name", {{"number", std::to_string(index + 1)}}) : name;
}

// Every form of copper at the water's pH and Eh, the most stable first, and how sure that is.
struct Ranking {
  PointAnswer best;
  std::vector<Standing> standings;

  // The most stable one of the solids besides one; empty where there is none.
  [[nodiscard]] std::string first_solid(const std::string& without = "") const {
    for (const Standing& one : standings) {
      if (one.kind == PhaseKind::solid && one.species != without) return one.species;
    }
    return "";
  }
};

// Between nantokite and cuprite at a chloride activity.
PhBoundary nantokite_cuprite(const DatasetPointer& dataset, double temperature_c,
                             double log10_chloride) {
  FieldOptions held;
  held.temperature_c = temperature_c;
  held.log10_activity["Cl(-)"] = log10_chloride;
  return ph_boundary(dataset, "nantokite", "cuprite", held);
}

// Copper(I) or the metal: made from Cu(2+) with electrons.
bool reduced(const Dataset& dataset, const std::string& species) {
  return dataset.at(species).components[dataset.component_index("e(-)")] != 0;
}

// What the copper(II) forms do to nantokite, whatever the pH.
std::string oxidation_words(const Ranking& ranking) {
  const std::string& form = ranking.best.species;
  const std::string solid = ranking.first_solid();
  const bool both = !solid.empty() && solid != form;
  return say("stable.nantokite.oxidised",
             {{"forms", both ? say("stable.nantokite.and_solid", {{"form", form}, {"solid", solid}})
                             : form}});
}

// Between nantokite and cuprite alone, where the Eh leaves copper(I) its place or is not known.
std::string boundary_words(double ph, const PhBoundary& boundary) {
  const double margin = 2 * boundary.uncertainty;
  if (ph > boundary.ph + margin) return say("stable.boundary.nantokite_gives_way");
  if (ph < boundary.ph - margin) return say("stable.boundary.nantokite_persists");
  return say("stable.boundary.not_decided");
}

// A field holds for copper compounds as such; the index, for the copper dissolved in this water.
std::string saturation_words(const SolvedCaseWater& state) {
  const auto found = state.result.saturation_index.find("nantokite");
  if (!state.has_copper || found == state.result.saturation_index.end()) return "";
  const std::string index = format_number(found->second, 2);
  return say(found->second < 0 ? "stable.nantokite.would_dissolve" : "stable.nantokite.may_form",
             {{"index", state.copper_is_limit ? say("index.at_most", {{"index", index}}) : index}});
}

// Which solid copper(I) takes says nothing of whether it stays solid.
std::string dissolved_words(const Dataset& dataset, const PointAnswer& best) {
  if (dataset.at(best.species).kind == PhaseKind::solid) return "";
  return say("stable.nantokite.dissolved", {{"form", best.species}});
}

CaseFinding boundary_finding(const std::string& key, const PhBoundary& boundary,
                             const PhBoundary& pit) {
  CaseFinding finding = range_of(
      key + ".ph_nantokite_cuprite", say("label.stable.ph_nantokite_cuprite"), boundary.ph,
      boundary.ph - 2 * boundary.uncertainty, boundary.ph + 2 * boundary.uncertainty, "pH");
  finding.text = "pH " + plus_minus(boundary.ph, boundary.uncertainty);
  finding.note = say("stable.boundary.note", {{"pit_ph", plus_minus(pit.ph, pit.uncertainty)}});
  return finding;
}

// `ranking` is that at this Eh, or nothing where the Eh is not known.
void add_boundary(CaseSection& section, const DatasetPointer& dataset, const std::string& key,
                  double temperature_c, const SolvedCaseWater& state,
                  const std::optional<Ranking>& ranking, std::string& answer) {
  const double ph = state.result.ph;
  const PhBoundary boundary =
      nantokite_cuprite(dataset, temperature_c, log10_activity(state.result, "Cl(-)"));
  section.findings.push_back(
      boundary_finding(key, boundary, nantokite_cuprite(dataset, temperature_c, 0)));
  if (std::isnan(ph)) return;
  const std::string words = boundary_words(ph, boundary);
  if (!ranking) {
    answer += say("stable.nantokite.without_eh", {{"boundary", words}});
  } else if (reduced(*dataset, ranking->best.species)) {
    answer += say("stable.nantokite.at_ph",
                  {{"boundary", words}, {"dissolved", dissolved_words(*dataset, ranking->best)}});
  } else {
    answer += say("stable.nantokite.without_oxygen",
                  {{"oxidation", oxidation_words(*ranking)}, {"boundary", words}});
  }
  answer += saturation_words(state);
  if (ph > boundary.ph + 2 * boundary.uncertainty) {
    answer += say("stable.nantokite.found_all_the_same");
  }
}

void add_quality(CaseSection& section, const SolvedCaseWater& state, const std::string& key) {
  CaseFinding charge =
      figure_of(key + ".charge_error_percent", say("label.stable.charge_error_percent"),
                state.charge.error_percent, "%", 2);
  charge.note = std::abs(state.charge.error_percent) > 5 ? say("stable.charge.too_far")
                                                         : say("stable.charge.note");
  if (state.charge.assigned_mol_per_kg != 0) {
    charge.note += say("stable.charge.assigned",
                       {{"mmol_per_kg", format_number(1000 * state.charge.assigned_mol_per_kg, 3)},
                        {"ion", state.water.charge_assigned_to}});
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
  return dataset.at(species).kind == PhaseKind::solid
             ? species
             : say("stable.form.dissolved", {{"form", species}});
}

std::string eh_words(const CaseWater& water, const Potential& potential) {
  return plus_minus(potential.eh_v,
                    water.analysis.oxygen_bar ? kNotGiven : potential.uncertainty_v) +
         " V";
}

std::string rival_words(const Dataset& dataset, const PointAnswer& best, bool outside) {
  if (best.runner_up.empty()) return "";
  return say(outside ? "stable.point.ahead_of" : "stable.point.not_decided",
             {{"form", form_in_words(dataset, best.runner_up)}});
}

std::string point_sentence(const Dataset& dataset, const PointAnswer& best, const CaseWater& water,
                           const SolvedCaseWater& state, const std::string& name, bool outside) {
  return say("stable.point.most_stable", {{"water", name},
                                          {"ph", format_number(state.result.ph, 3)},
                                          {"eh", eh_words(water, state.potential)},
                                          {"form", form_in_words(dataset, best.species)},
                                          {"rival", rival_words(dataset, best, outside)}});
}

// Another published constant that would put another form first.
std::string other_constant_words(const Dataset& dataset, const PointAnswer& best, bool outside) {
  if (best.overtaken_by.empty()) return "";
  const Figure& other = dataset.figure(best.overtaking_figure);
  return say(outside ? "stable.doubt.chosen_constants" : "stable.doubt.another_constant",
             {{"figure", other.id},
              {"source", other.source},
              {"value", format_number(other.value)},
              {"subject", other.subject},
              {"form", form_in_words(dataset, best.overtaken_by)}});
}

// A first solid that is slow to form, and which one comes without it.
std::string slow_words(const Dataset& dataset, const Ranking& ranking) {
  const std::string solid = ranking.first_solid();
  if (solid.empty() || dataset.at(solid).slow_to_form.empty()) return "";
  const std::string next = ranking.first_solid(solid);
  if (next.empty()) return say("stable.doubt.slow_to_form", {{"solid", solid}});
  return say("stable.doubt.slow_to_form_without", {{"solid", solid}, {"next", next}});
}

Ranking add_fields(CaseSection& section, const CaseWater& water, const SolvedCaseWater& state,
                   const DatasetPointer& dataset, const std::string& key, const std::string& name,
                   double temperature_c, std::string& answer) {
  CaseFinding eh = figure_of(key + ".eh_v", say("label.stable.eh_v"), state.potential.eh_v, "V");
  eh.text = eh_words(water, state.potential);
  eh.note = state.potential.said;
  section.findings.push_back(eh);
  const FieldModel model(dataset, fields_of(state, temperature_c));
  Ranking ranking{model.at(state.result.ph, state.potential.eh_v),
                  model.standings(state.result.ph, state.potential.eh_v)};
  const PointAnswer& best = ranking.best;
  const bool outside = best.gap_log10 > model.options().coverage * best.uncertainty_log10;
  CaseFinding finding =
      words_of(key + ".most_stable", say("label.stable.most_stable"), best.species);
  finding.note =
      say("stable.most_stable.note",
          {{"form", best.runner_up}, {"kj_per_mol", format_number(best.gap_kj_per_mol_copper, 2)}});
  section.findings.push_back(finding);
  answer += (answer.empty() ? "" : " ") +
            point_sentence(*dataset, best, water, state, name, outside) +
            other_constant_words(*dataset, best, outside) + slow_words(*dataset, ranking);
  add_new(section.figures, model.diagram().figures);
  section.tables.push_back(copper_solids(state, name, dataset, ranking.standings));
  return ranking;
}

void assess_water(StableAnswer& answer, const CaseFile& file, std::size_t index,
                  const DatasetPointer& dataset) {
  CaseSection& section = answer.section;
  const CaseWater& water = file.waters[index];
  const std::string key = water_key(file, index);
  const std::string name = water_name(file, index);
  check_names(file, water.analysis, key, *dataset);
  if (!water.analysis.ph.detected()) {
    section.missing.emplace_back(say("stable.missing.ph", {{"water", name}}));
    return;
  }
  const SolvedCaseWater state = solve_water(file, water.analysis, key, dataset);
  add_warnings(section, state.result.warnings);
  add_estimates(section, state.result.remarks.size());
  add_estimated_heats(section, state.result.estimated_heats);
  if (state.result.status != Status::converged || !std::isfinite(state.result.ph)) {
    mark_no_answer(section, name + ": " +
                                (state.result.message.empty() ? say("stable.no_answer.too_small")
                                                              : state.result.message));
    return;
  }
  add_new(section.figures, state.result.figures);
  const double temperature_c = water.analysis.temperature_c;
  answer.points.push_back(point_of(water, state, name));
  std::string said;
  std::optional<Ranking> ranking;
  const std::size_t first_finding = section.findings.size();
  if (state.potential.known) {
    ranking = add_fields(section, water, state, dataset, key, name, temperature_c, said);
  } else {
    section.missing.emplace_back(say("stable.missing.eh", {{"water", name}}));
  }
  const double chloride = log10_activity(state.result, "Cl(-)");
  if (std::isfinite(chloride)) {
    add_boundary(section, dataset, key, temperature_c, state, ranking, said);
  } else {
    section.missing.emplace_back(say("stable.missing.chloride", {{"water", name}}));
  }
  add_quality(section, state, key);
  for (std::size_t i = first_finding; i < section.findings.size(); ++i)
    section.findings[i].label = with_name(file, name, section.findings[i].label);
  if (!state.water.missing.empty()) {
    section.remarks.emplace_back(say("stable.remark.not_given",
                                     {{"water", name}, {"ions", join(state.water.missing, ", ")}}));
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
  section = section_of("stable");
  for (std::size_t i = 0; i < file.waters.size(); ++i) assess_water(answer, file, i, dataset);
  if (file.pit.given || !answer.diagrams.empty())
    answer.diagrams.push_back(pit_diagram(file.pit, dataset));
  if (file.waters.empty()) section.missing.emplace_back(say("stable.missing.water"));
  if (section.answer.empty()) {
    section.answer = say("stable.answer.no_water");
  } else if (!section.missing.empty() && section.status == SectionStatus::answered) {
    section.status = SectionStatus::partly;
  }
  section.remarks.emplace_back(say("stable.remark.not_how_fast"));
  return answer;
}

}  // namespace aeruca::detail
