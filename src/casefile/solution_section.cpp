#include <algorithm>

#include "aeruca/equilibrium.hpp"
#include "aeruca/weigh_out.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "casefile/balance.hpp"
#include "casefile/copper_solids.hpp"
#include "casefile/sections.hpp"
#include "casefile/water_state.hpp"

namespace aeruca::detail {
namespace {

CaseSection empty_section() {
  CaseSection section;
  section.id = "solution";
  section.title = "What the bath is and does";
  section.question =
      "How is the bath made up, and what does it do to the copper and its chlorides?";
  return section;
}

bool carbonated(const std::string& salt) {
  return salt.find("carbonate") != std::string::npos;
}

// The salt in full, and its form, whatever name the case gives them; an unknown one with its line.
CaseSolution with_full_names(const CaseFile& file, const Dataset& dataset) {
  CaseSolution solution = file.bath.solution;
  if (solution.salt.empty()) return solution;
  try {
    solution.salt = bath_salt(dataset, solution.salt).name;
  } catch (const Error&) {
    refuse_name(file, "bath.solution.salt", solution.salt, bath_salts(dataset));
  }
  if (solution.on_the_shelf.empty()) return solution;
  try {
    WeighOutRequest request;
    request.salt = solution.salt;
    request.form = solution.on_the_shelf;
    request.strength = 1;
    solution.on_the_shelf = weigh_out(dataset, request).form;
  } catch (const Error&) {
    refuse_name(file, "bath.solution.on_the_shelf", solution.on_the_shelf,
                shelf_forms(dataset, solution.salt));
  }
  return solution;
}

WeighOutRequest request_of(const CaseSolution& solution) {
  WeighOutRequest request;
  request.salt = solution.salt;
  request.strength = solution.strength_percent_w_v;
  request.volume_l = std::isnan(solution.volume_l) ? 1 : solution.volume_l;
  request.form = solution.on_the_shelf;
  request.purity_percent = solution.purity_percent;
  if (!std::isnan(solution.salt_chloride_percent))
    request.reagent_chloride_percent = solution.salt_chloride_percent;
  return request;
}

CaseTable weigh_table(const WeighOut& weighed, const WeighOutRequest& request) {
  CaseTable table;
  table.title = "To weigh for " + format_number(request.volume_l) + " L of " +
                format_number(request.strength) + " % w/v " + request.salt;
  table.columns = {"salt on the shelf", "formula", "grams"};
  for (const WeighedReagent& reagent : weighed.reagents) {
    table.rows.push_back({reagent.name, reagent.formula, format_number(reagent.grams, 4)});
  }
  table.note = "Made up to the volume with water; purity " + format_number(request.purity_percent) +
               " % counted.";
  return table;
}

// The three slips that change the strength most.
void add_traps(CaseSection& section, std::vector<WeighOutTrap> traps) {
  std::stable_sort(traps.begin(), traps.end(), [](const WeighOutTrap& a, const WeighOutTrap& b) {
    return std::abs(std::log(a.factor)) > std::abs(std::log(b.factor));
  });
  for (std::size_t i = 0; i < std::min<std::size_t>(3, traps.size()); ++i) {
    section.remarks.emplace_back("A usual slip: " + traps[i].mistake + ": " +
                                 format_number(traps[i].factor, 3) + " times the strength.");
  }
}

// From the salt and the water; one of the two alone is no blank.
double blank_mg_per_l(const CaseSolution& solution, const WeighOut& weighed) {
  if (std::isnan(solution.salt_chloride_percent)) return kNotGiven;
  return weighed.blank_mg_per_l + solution.water_chloride_mg_per_l;
}

CaseFinding blank_finding(const CaseSolution& solution, const WeighOut& weighed) {
  const double blank = blank_mg_per_l(solution, weighed);
  std::vector<std::string> lacking;
  if (std::isnan(solution.salt_chloride_percent)) lacking.emplace_back("salt_chloride_percent");
  if (std::isnan(solution.water_chloride_mg_per_l)) lacking.emplace_back("water_chloride_mg_per_l");
  return noted(figure_of("blank_mg_per_l", "chloride before the object goes in", blank, "mg/L"),
               lacking.empty() ? "from the salt and the water: the floor of every reading"
                               : join(lacking, " and ") + " in [bath.solution] is not given");
}

void add_weigh_out(CaseSection& section, const CaseSolution& solution, const Dataset& dataset) {
  if (std::isnan(solution.strength_percent_w_v)) {
    section.missing.emplace_back("strength_percent_w_v in [bath.solution]");
    return;
  }
  if (solution.on_the_shelf.empty()) {
    section.missing.emplace_back("on_the_shelf in [bath.solution], one of " +
                                 join(shelf_forms(dataset, solution.salt), ", ") +
                                 ": the hydrate decides the grams");
    return;
  }
  const WeighOutRequest request = request_of(solution);
  const WeighOut weighed = weigh_out(dataset, request);
  section.tables.push_back(weigh_table(weighed, request));
  section.findings.push_back(figure_of("mol_per_l", "strength", weighed.mol_per_l, "mol/L"));
  section.findings.push_back(blank_finding(solution, weighed));
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
  options.fixed_ph = false;
  options.phases = question.solids;
  options.components = {"Na(+)"};
  if (question.totals.contains("CO3(2-)") || question.totals.contains("HCO3(-)")) {
    options.components.emplace_back("CO3(2-)");
  }
  if (!question.solids.empty()) options.components.emplace_back("Cu(2+)");
  EquilibriumInput input;
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
  finding.text = format_number(finding.value, factor < 1.2 ? 2 : 1) + " mg/L, to a factor of " +
                 format_number(factor, 2);
  finding.note = "two standard uncertainties of the constants of " + solid + " and of " + main +
                 ", which holds most of it";
  if (other > factor)
    finding.note +=
        "; other published constants change it up to " + format_number(other, 2) + " times";
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
  if (!usable(section, result, "copper in the bath over " + solid)) return;
  const CaseFinding copper =
      figure_of("copper_over_" + solid + "_mg_per_l",
                "copper dissolved over " + solid + (air ? ", in air" : ", no air") +
                    (elsewhere ? ", at 25 degrees C" : ""),
                dissolved_copper_mg_per_l(*dataset, result), "mg/L", 2);
  section.findings.push_back(dissolved(copper, *dataset, result, solid));
  if (!elsewhere) return;
  add_new(section.warnings,
          {"Copper dissolved at " + format_number(bath_c) +
           " degrees C is not worked out: the heats of formation of most dissolved forms of copper "
           "are not in the data set. What stands here is for 25 degrees C, and which way it moves "
           "with temperature is not known."});
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
      noted(words_of("nantokite_in_bath", "nantokite in this bath",
                     chloride > 0
                         ? "gives way to cuprite at any chloride this bath can hold"
                         : "stays above a chloride activity of 10^" + format_number(chloride, 2)),
            "the boundary stands at pH " + plus_minus(constant, uncertainty) +
                " (one standard uncertainty) + log10 a(Cl(-)); the chloride set free is what the "
                "baths take out. How fast is "
                "not said."));
  add_new(section.figures, nantokite.figures);
  add_new(section.figures, cuprite.figures);
}

// One decimal is what constants and activity coefficients at such strengths carry.
CaseFinding ph_of(std::string key, std::string label, double ph) {
  CaseFinding finding = figure_of(std::move(key), std::move(label), ph, "");
  const long tenths = std::lround(10 * ph);
  finding.text = "about " + std::to_string(tenths / 10) + "." + std::to_string(tenths % 10);
  finding.note = "good to about 0.1: the activity coefficients at this strength carry no more";
  return finding;
}

void add_chemistry(CaseSection& section, const CaseSolution& solution,
                   const DatasetPointer& dataset) {
  const BathQuestion fresh = bath_of(*dataset, solution, strength_mol_per_l(*dataset, solution));
  const EquilibriumResult closed = solve_bath(fresh, dataset);
  if (!usable(section, closed, "pH of the bath")) return;
  CaseFinding ph = ph_of("ph", "pH of the fresh bath", closed.ph);
  if (solution.salt == "sodium sesquicarbonate") {
    ph.note =
        "practice gives 9.9 to 10.1; the pH barely depends on the strength, so it is no check of "
        "it; " +
        ph.note;
  }
  section.findings.push_back(ph);
  section.findings.push_back(
      figure_of("ionic_strength_mol_per_kg", "ionic strength", closed.ionic_strength, "mol/kg"));
  if (carbonated(solution.salt)) {
    BathQuestion open = fresh;
    open.gases["CO2(g)"] = 4.2e-4;
    const EquilibriumResult aged = solve_bath(open, dataset);
    if (usable(section, aged, "pH of the bath open to air")) {
      section.findings.push_back(
          noted(ph_of("ph_open_to_air", "pH in the end, open to air", aged.ph),
                "after taking up carbon dioxide to 0.00042 bar; how fast is not said"));
    }
  }
  add_nantokite(section, *dataset, closed.ph);
  add_copper(section, dataset, fresh, "cuprite", false);
  add_copper(section, dataset, fresh, "tenorite", true);
  if (carbonated(solution.salt)) add_copper(section, dataset, fresh, "malachite", true);
}

std::string answer_of(const CaseSection& section) {
  std::string text = "The bath";
  for (const CaseFinding& finding : section.findings) {
    if (finding.key == "ph") text += " has pH " + finding.text;
    if (finding.key == "nantokite_in_bath") text += "; nantokite " + finding.text;
  }
  return text + ".";
}

}  // namespace

double blank_of_solution(const CaseFile& file, const Dataset& dataset) {
  CaseSolution solution = with_full_names(file, dataset);
  if (!solution.given) return kNotGiven;
  if (solution.salt.empty()) return solution.water_chloride_mg_per_l;
  if (std::isnan(solution.strength_percent_w_v)) return kNotGiven;
  if (solution.on_the_shelf.empty()) {
    // Without the form the grams of reagent are not known, and so not their chloride.
    return solution.salt_chloride_percent == 0 ? solution.water_chloride_mg_per_l : kNotGiven;
  }
  return blank_mg_per_l(solution, weigh_out(dataset, request_of(solution)));
}

CaseSection solution_section(const CaseFile& file, const DatasetPointer& dataset) {
  CaseSection section = empty_section();
  const CaseSolution solution = with_full_names(file, *dataset);
  if (!solution.given || solution.salt.empty()) {
    section.answer = "No salt is given for the bath, so neither grams nor pH can be worked out.";
    section.missing.emplace_back("salt and strength_percent_w_v in [bath.solution]");
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
    section.answer = "The strength of the bath is not given.";
  }
  if (carbonated(solution.salt)) {
    section.remarks.emplace_back(
        "Sodium copper carbonate (chalconatronite), the blue-green film that follows carbonate "
        "baths: its constant is not in the data set, so the risk is not known. A blue bath is "
        "copper leaving the patina.");
  }
  return section;
}

}  // namespace aeruca::detail
