#include "casefile/bath_chemistry_findings.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "aeruca/log_against_bath.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

// Lead and zinc as the material of the object names them.
std::vector<std::string> metals_of(const std::string& material) {
  std::string lower = material;
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  const auto named = [&](const char* word) { return lower.find(word) != std::string::npos; };
  std::vector<std::string> metals;
  if (named("lead") || named("solder")) metals.emplace_back("lead");
  if (named("zinc") || named("brass") || named("gunmetal")) metals.emplace_back("zinc");
  return metals;
}

BathRecipe recipe_of(const CaseFile& file, const CaseSolution& solution) {
  BathRecipe recipe;
  recipe.salt = solution.salt;
  recipe.percent_w_v = solution.strength_percent_w_v;
  recipe.volume_l = std::isnan(solution.volume_l) ? 1 : solution.volume_l;
  recipe.form = solution.on_the_shelf;
  if (!recipe.form.empty()) {
    recipe.purity_percent = solution.purity_percent;
    recipe.reagent_chloride_percent = solution.salt_chloride_percent;
  }
  recipe.water_chloride_mg_per_l = solution.water_chloride_mg_per_l;
  recipe.temperature_c = solution.temperature_c;
  recipe.object_mass_g = file.object.mass_g;
  recipe.metals = metals_of(file.object.material);
  return recipe;
}

CaseFinding ph_finding(std::string key, std::string label, const BathPh& state) {
  CaseFinding finding = figure_of(std::move(key), std::move(label), state.ph.value, "");
  finding.low = state.ph.low;
  finding.high = state.ph.high;
  finding.text = say("solution.ph.range", {{"ph", fixed_text(state.ph.value, 1)},
                                           {"low", fixed_text(state.ph.low, 1)},
                                           {"high", fixed_text(state.ph.high, 1)}});
  return finding;
}

void add_ageing(CaseSection& section, const BathChemistry& bath) {
  const BathPh* open = bath.ph_of("open");
  const BathPh* covered = bath.ph_of("covered");
  if (open == nullptr || covered == nullptr) return;
  const bool loses = open->moved_mmol_per_l < 0;
  section.findings.push_back(
      noted(ph_finding("ph_open_to_air", say("label.solution.ph_open_to_air"), *open),
            say(loses ? "solution.ph_open_to_air.loses" : "solution.ph_open_to_air.gains",
                {{"mmol_per_l", format_number(std::abs(open->moved_mmol_per_l), 3)}})));
  section.findings.push_back(
      noted(ph_finding("ph_covered", say("label.solution.ph_covered"), *covered),
            say("solution.ph_covered.note")));
}

void add_locked(CaseSection& section, const BathChemistry& bath) {
  const WithinRange& locked = bath.locked_percent;
  if (std::isnan(locked.low)) return;
  CaseFinding finding =
      figure_of("nantokite_locked_percent", say("label.solution.locked"), locked.value, "%", 2);
  finding.low = locked.low;
  finding.high = locked.high;
  finding.text = say("solution.locked.text",
                     {{"low", fixed_text(locked.low, 0)}, {"high", fixed_text(locked.high, 0)}});
  section.findings.push_back(noted(finding, say("solution.locked.note")));
}

// The solid that lets most of a metal go decides what a filling may carry off.
const CarriedOff* most_of(const BathChemistry& bath, const std::string& metal) {
  const CarriedOff* most = nullptr;
  for (const CarriedOff& one : bath.carried_off) {
    if (one.metal != metal) continue;
    if (most == nullptr || one.mg.value > most->mg.value) most = &one;
  }
  return most;
}

std::string two(double value) {
  return significant_text_above(1e-4, value, 2);
}

void add_carried_off(CaseSection& section, const BathChemistry& bath) {
  for (const char* metal : {"copper", "lead", "zinc"}) {
    const CarriedOff* most = most_of(bath, metal);
    if (most == nullptr) continue;
    CaseFinding finding =
        figure_of(std::string(metal) + "_carried_off_mg",
                  say("label.solution.carried_off", {{"metal", metal}}), most->mg.value, "mg", 2);
    finding.low = most->mg.low;
    finding.high = most->mg.high;
    finding.text = say(
        "solution.carried_off.text",
        {{"mg", two(most->mg.value)}, {"low", two(most->mg.low)}, {"high", two(most->mg.high)}});
    if (!std::isnan(most->percent_of_mass.value))
      finding.text += say("bath.chemistry.share", {{"percent", two(most->percent_of_mass.value)},
                                                   {"low", two(most->percent_of_mass.low)},
                                                   {"high", two(most->percent_of_mass.high)}});
    section.findings.push_back(
        noted(finding, say("solution.carried_off.note",
                           {{"solid", most->solid}, {"litres", format_number(bath.volume_l, 3)}})));
  }
}

void add_log(CaseSection& section, const BathChemistry& bath, const BathLog* log) {
  if (log == nullptr) return;
  const LogAgainstBath found = log_against_bath(*log, bath);
  if (found.compared_ph + found.compared_colours == 0) return;
  section.findings.push_back(
      words_of("log_against_bath", say("label.solution.log"), found.sentence));
  for (const LogDisagreement& one : found.disagreements)
    add_new(section.warnings, {as_sentence(one.sentence)});
}

}  // namespace

void add_bath_chemistry(CaseSection& section, const CaseFile& file, const CaseSolution& solution,
                        const DatasetPointer& dataset, const BathLog* log) try {
  const BathChemistry bath = chemistry_of_bath(dataset, recipe_of(file, solution));
  if (bath.status != Status::converged) add_new(section.warnings, {as_sentence(bath.message)});
  if (const BathPh* fresh = bath.ph_of("fresh")) {
    for (CaseFinding& finding : section.findings) {
      if (finding.key != "ph") continue;
      finding.low = fresh->ph.low;
      finding.high = fresh->ph.high;
    }
  }
  add_ageing(section, bath);
  add_locked(section, bath);
  add_carried_off(section, bath);
  for (const CarriedOff& metal : bath.carried_off) {
    if (metal.metal == "copper") continue;
    add_new(section.warnings, {say("bath.chemistry.metal_warning",
                                   {{"metal", metal.metal}, {"high", two(metal.mg.high)}})});
  }
  if (bath.salt == "water" && most_of(bath, "lead") != nullptr)
    add_new(section.warnings, {say("bath.chemistry.lead_in_water")});
  add_log(section, bath, log);
  add_new(section.figures, bath.figures);
} catch (const InputError& problem) {
  add_new(section.warnings, {say("solution.chemistry.refused", {{"problem", problem.what()}})});
}

}  // namespace aeruca::detail
