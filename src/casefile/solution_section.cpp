#include <algorithm>

#include "aeruca/equilibrium.hpp"
#include "aeruca/weigh_out.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "casefile/bath_solution.hpp"
#include "casefile/copper_solids.hpp"
#include "casefile/sections.hpp"
#include "casefile/sentence.hpp"
#include "casefile/water_state.hpp"
#include "uncertainty/alternatives.hpp"
#include "uncertainty/combination.hpp"

namespace aeruca::detail {
namespace {

CaseSection empty_section() {
  CaseSection section;
  section.id = "solution";
  section.title = say("section.solution.title");
  section.question = say("section.solution.question");
  return section;
}

bool carbonated(const std::string& salt) {
  return salt.find("carbonate") != std::string::npos;
}

CaseTable weigh_table(const WeighOut& weighed, const WeighOutRequest& request) {
  CaseTable table;
  table.title = say("solution.to_weigh_for_l_of", {{"1", format_number(request.volume_l)},
                                                   {"2", format_number(request.strength)},
                                                   {"3", request.salt}});
  table.columns = {say("column.salt_on_the_shelf"), say("column.formula"), say("column.grams")};
  for (const WeighedReagent& reagent : weighed.reagents) {
    table.rows.push_back({reagent.name, reagent.formula, format_number(reagent.grams, 4)});
  }
  table.note =
      say("solution.made_up_to_the_volume", {{"1", format_number(request.purity_percent)}});
  return table;
}

// The three slips that change the strength most.
void add_traps(CaseSection& section, std::vector<WeighOutTrap> traps) {
  std::stable_sort(traps.begin(), traps.end(), [](const WeighOutTrap& a, const WeighOutTrap& b) {
    return std::abs(std::log(a.factor)) > std::abs(std::log(b.factor));
  });
  for (std::size_t i = 0; i < std::min<std::size_t>(3, traps.size()); ++i) {
    section.remarks.emplace_back(
        say("solution.a_usual_slip_times_the",
            {{"1", traps[i].mistake}, {"2", format_number(traps[i].factor, 3)}}));
  }
}

CaseFinding blank_finding(const BathBlank& blank) {
  std::string note;
  if (!std::isnan(blank.mg_per_l)) note = say("solution.from_the_salt_and_the");
  if (!blank.lacking.empty()) {
    if (!note.empty()) note += "; ";
    note +=
        say("solution.in_bath_solution_is_not", {{"1", join(blank.lacking, say("solution.and"))}});
  }
  return noted(
      figure_of("blank_mg_per_l", say("label.solution.blank_mg_per_l"), blank.mg_per_l, "mg/L"),
      note);
}

void add_weigh_out(CaseSection& section, const CaseSolution& solution, const Dataset& dataset) {
  if (std::isnan(solution.strength_percent_w_v)) {
    section.missing.emplace_back(say("solution.strength_percent_w_v_in"));
    return;
  }
  if (solution.on_the_shelf.empty()) {
    section.missing.emplace_back(say("solution.on_the_shelf_in_bath",
                                     {{"1", join(shelf_forms(dataset, solution.salt), ", ")}}));
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
  add_new(section.warnings, weighed.cautions);
}

// One bath with its solids; the pH follows from the charge balance.
struct BathQuestion {
  std::map<std::string, double> totals;
  std::vector<std::string> solids;
  std::map<std::string, double> gases;
  Redox redox = Redox::eh;
  double temperature_c = 25;
};

EquilibriumResult solve_bath(const BathQuestion& question, const DatasetPointer& dataset) {
  EquilibriumOptions options;
  options.temperature_c = question.temperature_c;
  options.redox = question.redox;
  options.acidity = Acidity::charge_balance;
  if (!question.solids.empty()) options.precipitation = Precipitation::allowed;
  options.allowed_solids = question.solids;
  options.components = {"Na(+)"};
  if (question.totals.contains("CO3(2-)") || question.totals.contains("HCO3(-)")) {
    options.components.emplace_back("CO3(2-)");
  }
  if (!question.solids.empty()) options.components.emplace_back("Cu(2+)");
  EquilibriumInput input;
  // Without copper nothing in the bath changes its charge: any potential gives the same answer.
  if (question.redox == Redox::eh) input.eh_v = 0.4;
  if (question.redox == Redox::oxygen) input.oxygen_bar = 0.21;
  input.totals_mol_per_kg = question.totals;
  input.fugacity_bar = question.gases;
  return Equilibrium(dataset, options).solve(input);
}

double dissolved_copper_mg_per_l(const Dataset& dataset, const EquilibriumResult& result) {
  double copper = 0;
  const std::size_t component = dataset.component_index("Cu(2+)");
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    copper += dataset.at(result.species[i]).components[component] * result.molality[i];
  }
  return copper * dataset.at("Cu(2+)").molar_mass_g_per_mol * 1000;
}

bool usable(CaseSection& section, const EquilibriumResult& result, const std::string& what) {
  add_warnings(section, result.warnings);
  add_estimates(section, result.remarks.size());
  add_new(section.figures, result.figures);
  if (result.status == Status::converged) return true;
  mark_no_answer(section, what + ": " + result.message);
  return false;
}

// The dissolved form that holds most of the copper.
std::string main_copper_species(const Dataset& dataset, const EquilibriumResult& result) {
  const std::size_t component = dataset.component_index("Cu(2+)");
  std::string main = "Cu(2+)";
  double most = 0;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const Species& species = dataset.at(result.species[i]);
    const double copper = species.components[component] * result.molality[i];
    if (species.kind == PhaseKind::aqueous && copper > most) most = copper, main = species.name;
  }
  return main;
}

// solid (+ metal, where copper changes its charge) = main species, for one formula of the latter.
Balance dissolution(const Dataset& dataset, const std::string& solid, const std::string& main) {
  const auto count = [&](const std::string& name, const char* component) {
    return dataset.at(name).components[dataset.component_index(component)];
  };
  const double copper = count(main, "Cu(2+)");
  const double atoms = count(solid, "Cu(2+)");
  const double electrons = count(solid, "e(-)");
  // atoms a + b = copper and electrons a + 2 b = electrons of main, for a solid and b metal.
  const double a = (2 * copper - count(main, "e(-)")) / (2 * atoms - electrons);
  return {{main, 1}, {solid, -a}, {"copper", -(copper - atoms * a)}};
}

// Dissolved copper follows log10 K of solid = main species: an error of it is a factor.
CaseFinding dissolved(CaseFinding finding, const Dataset& dataset, const EquilibriumResult& result,
                      const std::string& solid) {
  const std::string main = main_copper_species(dataset, result);
  const Balance balance = dissolution(dataset, solid, main);
  const double factor = std::pow(10.0, 2 * stated_uncertainty(dataset, balance));
  const double other = std::pow(10.0, widest_change(dataset, balance));
  finding.low = finding.value / factor;
  finding.high = finding.value * factor;
  finding.text = say(
      "solution.mg_l_to_a_factor",
      {{"1", format_number(finding.value, factor < 1.2 ? 2 : 1)}, {"2", format_number(factor, 2)}});
  finding.note = say("solution.two_standard_uncertainties_of_the", {{"1", solid}, {"2", main}});
  if (other > factor)
    finding.note +=
        say("solution.other_published_constants_change_it", {{"1", format_number(other, 2)}});
  return finding;
}

// Copper that a solid lets into the bath; too much of the solid is offered, the rest stays.
void add_copper(CaseSection& section, const DatasetPointer& dataset, BathQuestion question,
                const std::string& solid, bool air) {
  if (!dataset->contains(solid)) return;
  constexpr double kPlenty = 0.05;  // mol per kg
  // Most dissolved forms of copper have no heat of formation: elsewhere than at 25 degrees C the
  // answer would rest on constants frozen there against an ionisation of water that moves, and come
  // out wrong even in sign.
  const double bath_c = question.temperature_c;
  const bool elsewhere = copper_unknown_at(*dataset, bath_c) > 0;
  if (elsewhere) question.temperature_c = 25;
  question.totals[solid] = kPlenty;
  question.solids = {solid};
  if (air) {
    question.redox = Redox::oxygen;
  } else {
    question.redox = Redox::conserved;
    question.totals["copper"] = kPlenty;
    question.solids.emplace_back("copper");
  }
  const EquilibriumResult result = solve_bath(question, dataset);
  if (!usable(section, result, say("solution.copper_in_the_bath_over", {{"1", solid}}))) return;
  const CaseFinding copper =
      figure_of("copper_over_" + solid + "_mg_per_l",
                say("solution.copper_dissolved_over",
                    {{"1", solid},
                     {"2", (air ? say("solution.in_air") : say("solution.no_air"))},
                     {"3", (elsewhere ? say("solution.at_25_degrees_c") : "")}}),
                dissolved_copper_mg_per_l(*dataset, result), "mg/L", 2);
  section.findings.push_back(dissolved(copper, *dataset, result, solid));
  if (!elsewhere) return;
  add_new(section.warnings,
          {say("solution.copper_dissolved_at_degrees_c", {{"1", format_number(bath_c)}})});
}

BathQuestion bath_of(const Dataset& dataset, const CaseSolution& solution, double mol_per_l) {
  BathQuestion question;
  question.temperature_c = solution.temperature_c;
  for (const auto& [ion, count] : bath_salt(dataset, solution.salt).ions) {
    // The pH follows from the charge balance, which brings the hydroxide.
    if (ion != "OH(-)") question.totals[ion] = count * mol_per_l;
  }
  return question;
}

// mol/L of the salt as named; 1 % w/v is 10 g/L. Works without the form on the shelf.
double strength_mol_per_l(const Dataset& dataset, const CaseSolution& solution) {
  WeighOutRequest request = request_of(solution);
  request.form = shelf_forms(dataset, solution.salt).front();
  request.purity_percent = 100;
  return weigh_out(dataset, request).mol_per_l;
}

void add_nantokite(CaseSection& section, const Dataset& dataset, double ph) {
  const Species& nantokite = dataset.at("nantokite");
  const Species& cuprite = dataset.at("cuprite");
  // 2 nantokite + H2O = cuprite + 2 H(+) + 2 Cl(-):  pH = log K(nantokite) - log K(cuprite) / 2 +
  // log a(Cl)
  const double constant = nantokite.log10_k - cuprite.log10_k / 2;
  const double uncertainty = stated_uncertainty(dataset, {{"nantokite", 1}, {"cuprite", -0.5}});
  const double chloride = ph - constant;
  section.findings.push_back(
      noted(words_of("nantokite_in_bath", say("label.solution.nantokite_in_bath"),
                     chloride > 0 ? say("solution.gives_way_to_cuprite_at")
                                  : say("solution.stays_above_a_chloride_activity",
                                        {{"1", format_number(chloride, 2)}})),
            say("solution.the_boundary_stands_at_ph", {{"1", plus_minus(constant, uncertainty)}})));
  add_new(section.figures, nantokite.figures);
  add_new(section.figures, cuprite.figures);
}

// One decimal is what constants and activity coefficients at such strengths carry.
CaseFinding ph_of(std::string key, std::string label, double ph) {
  CaseFinding finding = figure_of(std::move(key), std::move(label), ph, "");
  const long tenths = std::lround(10 * ph);
  finding.text = say("solution.about",
                     {{"1", std::to_string(tenths / 10)}, {"2", std::to_string(tenths % 10)}});
  finding.note = say("solution.good_to_about_0_1");
  return finding;
}

void add_chemistry(CaseSection& section, const CaseSolution& solution,
                   const DatasetPointer& dataset) {
  const BathQuestion fresh = bath_of(*dataset, solution, strength_mol_per_l(*dataset, solution));
  const EquilibriumResult closed = solve_bath(fresh, dataset);
  if (!usable(section, closed, say("solution.ph_of_the_bath"))) return;
  CaseFinding ph = ph_of("ph", say("label.solution.ph"), closed.ph);
  if (solution.salt == "sodium sesquicarbonate") {
    ph.note = say("solution.practice_gives_9_9_to", {{"1", ph.note}});
  }
  section.findings.push_back(ph);
  section.findings.push_back(figure_of("ionic_strength_mol_per_kg",
                                       say("label.solution.ionic_strength_mol_per_kg"),
                                       closed.ionic_strength, "mol/kg"));
  if (carbonated(solution.salt)) {
    BathQuestion open = fresh;
    open.gases["CO2(g)"] = 4.2e-4;
    const EquilibriumResult aged = solve_bath(open, dataset);
    if (usable(section, aged, say("solution.ph_of_the_bath_open"))) {
      section.findings.push_back(
          noted(ph_of("ph_open_to_air", say("label.solution.ph_open_to_air"), aged.ph),
                say("solution.after_taking_up_carbon_dioxide")));
    }
  }
  add_nantokite(section, *dataset, closed.ph);
  add_copper(section, dataset, fresh, "cuprite", false);
  add_copper(section, dataset, fresh, "tenorite", true);
  if (carbonated(solution.salt)) add_copper(section, dataset, fresh, "malachite", true);
}

std::string answer_of(const CaseSection& section) {
  std::string text = say("solution.the_bath");
  for (const CaseFinding& finding : section.findings) {
    if (finding.key == "ph") text += " has pH " + finding.text;
    if (finding.key == "nantokite_in_bath") text += "; nantokite " + finding.text;
  }
  return text + ".";
}

}  // namespace

CaseSection solution_section(const CaseFile& file, const DatasetPointer& dataset) {
  CaseSection section = empty_section();
  const CaseSolution solution = with_full_names(file, *dataset);
  if (!solution.given || solution.salt.empty()) {
    section.answer = say("solution.no_salt_is_given_for");
    section.missing.emplace_back(say("solution.salt_and_strength_percent_w"));
    return section;
  }
  if (stops(file.object)) {
    section.status = SectionStatus::refused;
    section.answer = stop_sentence(file.object);
    return section;
  }
  add_weigh_out(section, solution, *dataset);
  if (!std::isnan(solution.strength_percent_w_v)) {
    section.status = section.missing.empty() ? SectionStatus::answered : SectionStatus::partly;
    add_chemistry(section, solution, dataset);
    if (section.status != SectionStatus::no_answer) section.answer = answer_of(section);
  } else {
    section.answer = say("solution.the_strength_of_the_bath");
  }
  if (carbonated(solution.salt)) {
    section.remarks.emplace_back(say("solution.sodium_copper_carbonate_chalconatronite_the"));
  }
  return section;
}

}  // namespace aeruca::detail
