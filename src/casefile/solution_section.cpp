#include <algorithm>

#include "aeruca/bath_chemistry.hpp"
#include "aeruca/stability.hpp"
#include "aeruca/weigh_out.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/bath_chemistry_findings.hpp"
#include "casefile/bath_solution.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

bool carbonated(const std::string& salt) {
  return salt.find("carbonate") != std::string::npos;
}

CaseTable weigh_table(const WeighOut& weighed, const WeighOutRequest& request) {
  CaseTable table;
  table.title = say("solution.weigh.title", {{"volume_l", format_number(request.volume_l)},
                                             {"percent", format_number(request.strength)},
                                             {"salt", request.salt}});
  table.columns = {say("column.salt_on_the_shelf"), say("column.formula"), say("column.grams")};
  for (const WeighedReagent& reagent : weighed.reagents) {
    table.rows.push_back({reagent.name, reagent.formula, format_number(reagent.grams, 4)});
  }
  table.note =
      say("solution.weigh.note", {{"purity_percent", format_number(request.purity_percent)}});
  return table;
}

// The three slips that change the strength most.
void add_traps(CaseSection& section, std::vector<WeighOutTrap> traps) {
  std::stable_sort(traps.begin(), traps.end(), [](const WeighOutTrap& a, const WeighOutTrap& b) {
    return std::abs(std::log(a.factor)) > std::abs(std::log(b.factor));
  });
  for (std::size_t i = 0; i < std::min<std::size_t>(3, traps.size()); ++i) {
    section.remarks.emplace_back(
        say("solution.remark.slip",
            {{"mistake", traps[i].mistake}, {"factor", format_number(traps[i].factor, 3)}}));
  }
}

CaseFinding blank_finding(const BathBlank& blank) {
  std::string note;
  if (!std::isnan(blank.mg_per_l)) note = say("solution.blank.note");
  if (!blank.lacking.empty()) {
    if (!note.empty()) note += "; ";
    note += say("solution.blank.lacking", {{"keys", join(blank.lacking, say("list.and"))}});
  }
  return noted(
      figure_of("blank_mg_per_l", say("label.solution.blank_mg_per_l"), blank.mg_per_l, "mg/L"),
      note);
}

void add_weigh_out(CaseSection& section, const CaseSolution& solution, const Dataset& dataset) {
  if (std::isnan(solution.strength_percent_w_v)) {
    section.missing.emplace_back(say("solution.missing.strength"));
    return;
  }
  if (solution.on_the_shelf.empty()) {
    section.missing.emplace_back(say("solution.missing.on_the_shelf",
                                     {{"forms", join(shelf_forms(dataset, solution.salt), ", ")}}));
    return;
  }
  const WeighOutRequest request = request_of(solution);
  const WeighOut weighed = weigh_out(dataset, request);
  section.tables.push_back(weigh_table(weighed, request));
  section.findings.push_back(
      figure_of("mol_per_l", say("label.solution.mol_per_l"), weighed.mol_per_l, "mol/L"));
  section.findings.push_back(blank_finding(blank_of_solution(solution, dataset)));
  add_traps(section, weighed.traps);
  if (weighed.dissolves == Dissolves::no) add_new(section.warnings, {weighed.solubility_words});
  add_new(section.warnings, as_sentences(weighed.cautions));
}

// What an answer rests on; of an equilibrium, or of the copper over a solid.
template <class Answer>
void add_provenance(CaseSection& section, const Answer& answer) {
  add_warnings(section, answer.warnings);
  add_estimates(section, answer.remarks.size());
  add_estimated_heats(section, answer.estimated_heats);
  add_new(section.figures, answer.figures);
}

// Whether there is an answer to go on with.
template <class Answer>
bool usable(CaseSection& section, const Answer& answer, const std::string& what) {
  add_provenance(section, answer);
  if (answer.status == Status::converged) return true;
  mark_no_answer(section, what + ": " + answer.message);
  return false;
}

// Dissolved copper follows log10 K of solid = main form: an error of it is a factor.
CaseFinding dissolved(CaseFinding finding, const CopperOverSolid& copper) {
  finding.low = copper.mg_per_l / copper.factor;
  finding.high = copper.mg_per_l * copper.factor;
  finding.text = say("solution.copper_over.text",
                     {{"mg_per_l", format_number(copper.mg_per_l, copper.factor < 1.2 ? 2 : 1)},
                      {"factor", format_number(copper.factor, 2)}});
  finding.note =
      say("solution.copper_over.note", {{"solid", copper.solid}, {"form", copper.main_form}});
  if (copper.other_factor > copper.factor)
    finding.note += say("solution.copper_over.other_constants",
                        {{"factor", significant_text(copper.other_factor, 2)}});
  return finding;
}

void add_copper(CaseSection& section, const DatasetPointer& dataset, const BathMakeup& bath,
                const std::string& solid, BathAir air) {
  if (!dataset->contains(solid)) return;
  const CopperOverSolid copper = copper_over(dataset, bath, solid, air);
  if (!usable(section, copper, say("solution.worked_out.copper_over", {{"solid", solid}}))) return;
  const std::string label =
      say("solution.copper_over.label",
          {{"solid", solid},
           {"air", say(air == BathAir::open ? "solution.copper_over.in_air"
                                            : "solution.copper_over.no_air")}});
  section.findings.push_back(dissolved(
      figure_of("copper_over_" + solid + "_mg_per_l", label, copper.mg_per_l, "mg/L", 2), copper));
}

// Nantokite stays where the chloride is above the boundary with cuprite at the bath's pH.
void add_nantokite(CaseSection& section, const DatasetPointer& dataset, double ph,
                   double temperature_c) {
  FieldOptions held;
  held.log10_activity["Cl(-)"] = 0;
  held.temperature_c = temperature_c;
  const PhBoundary boundary = ph_boundary(dataset, "nantokite", "cuprite", held);
  const double log10_chloride = ph - boundary.ph;
  section.findings.push_back(noted(
      words_of("nantokite_in_bath", say("label.solution.nantokite_in_bath"),
               log10_chloride > 0 ? say("solution.nantokite.gives_way")
                                  : say("solution.nantokite.stays_above",
                                        {{"log10_chloride", format_number(log10_chloride, 2)}})),
      say("solution.nantokite.note", {{"ph", plus_minus(boundary.ph, boundary.uncertainty)}})));
  add_new(section.figures, boundary.figures);
}

// One decimal is what constants and activity coefficients at such strengths carry.
CaseFinding ph_of(std::string key, std::string label, double ph) {
  CaseFinding finding = figure_of(std::move(key), std::move(label), ph, "");
  finding.text = say("solution.ph.text", {{"ph", fixed_text(ph, 1)}});
  finding.note = say("solution.ph.note");
  return finding;
}

BathMakeup makeup_of(const CaseSolution& solution, const Dataset& dataset) {
  if (is_plain_water(solution.salt)) return {solution.salt, 0, solution.temperature_c};
  return {solution.salt, strength_mol_per_l(dataset, solution.salt, solution.strength_percent_w_v),
          solution.temperature_c};
}

void add_chemistry(CaseSection& section, const CaseFile& file, const CaseSolution& solution,
                   const DatasetPointer& dataset, const BathLog* log) {
  const BathMakeup bath = makeup_of(solution, *dataset);
  const EquilibriumResult fresh = bath_water(dataset, bath, BathAir::shut_out);
  if (!usable(section, fresh, say("solution.worked_out.ph"))) return;
  CaseFinding ph = ph_of("ph", say("label.solution.ph"), fresh.ph);
  if (solution.salt == "sodium sesquicarbonate") {
    ph.note = say("solution.ph.practice", {{"note", ph.note}});
  }
  section.findings.push_back(ph);
  section.findings.push_back(figure_of("ionic_strength_mol_per_kg",
                                       say("label.solution.ionic_strength_mol_per_kg"),
                                       fresh.ionic_strength, "mol/kg"));
  add_nantokite(section, dataset, fresh.ph, solution.temperature_c);
  add_copper(section, dataset, bath, "cuprite", BathAir::shut_out);
  add_copper(section, dataset, bath, "tenorite", BathAir::open);
  if (carbonated(solution.salt)) add_copper(section, dataset, bath, "malachite", BathAir::open);
  add_bath_chemistry(section, file, solution, dataset, log);
}

std::string answer_of(const CaseSection& section) {
  return say("solution.answer.bath", {{"ph", section.finding("ph").text},
                                      {"nantokite", section.finding("nantokite_in_bath").text}});
}

}  // namespace

CaseSection solution_section(const CaseFile& file, const DatasetPointer& dataset,
                             const BathLog* log) {
  CaseSection section = section_of("solution");
  const CaseSolution solution = with_full_names(file, *dataset);
  if (!solution.given || solution.salt.empty()) {
    section.answer = say("solution.answer.no_salt");
    section.missing.emplace_back(say("solution.missing.salt"));
    return section;
  }
  if (stops(file.object)) {
    section.status = SectionStatus::refused;
    section.answer = stop_sentence(file.object);
    return section;
  }
  const bool water = is_plain_water(solution.salt);
  if (water)
    section.findings.push_back(blank_finding(blank_of_solution(solution, *dataset)));
  else
    add_weigh_out(section, solution, *dataset);
  if (water || !std::isnan(solution.strength_percent_w_v)) {
    section.status = section.missing.empty() ? SectionStatus::answered : SectionStatus::partly;
    add_chemistry(section, file, solution, dataset, log);
    if (section.status != SectionStatus::no_answer) section.answer = answer_of(section);
  } else {
    section.answer = say("solution.answer.no_strength");
  }
  if (carbonated(solution.salt)) {
    section.remarks.emplace_back(say("solution.remark.sodium_copper_carbonate"));
  }
  return section;
}

}  // namespace aeruca::detail
