#include "aeruca/render.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <sstream>

#include "aeruca/speciation.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/water_page.hpp"

namespace aeruca {
namespace {

using detail::Align;
using detail::Column;
using detail::fixed_text;
using detail::format_number;
using detail::kLeastIndexShown;
using detail::kLeastPercent;
using detail::say;

constexpr double kLeastMolality = 1e-15;  // mol/kg of a form of water alone
constexpr double kSupersaturated = 5e-4;  // index that counts as above 0

using Rows = std::vector<std::vector<std::string>>;

// 1.234e-05 as in a laboratory book: one look for every amount.
std::string amount(double value) {
  std::array<char, 32> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%.4e", value);
  return buffer.data();
}

void add_water(const SolvedWater& solved, std::ostream& out) {
  const EquilibriumResult& result = solved.result;
  const EquilibriumOptions& options = solved.water.options;
  out << say(options.acidity == Acidity::given_ph ? "page.water.ph_given" : "page.water.ph_balance",
             {{"ph", fixed_text(result.ph, 3)},
              {"eh_v", fixed_text(result.eh_v, 4)},
              {"pe", fixed_text(result.pe, 3)},
              {"temperature_c", format_number(options.temperature_c)}})
      << '\n';
  if (solved.water.potential && !solved.water.potential->figure.empty())
    out << say("page.water.read_as", {{"potential", solved.water.potential->said}}) << '\n';
  out << say("page.water.activities", {{"ionic_strength", format_number(result.ionic_strength, 4)},
                                       {"water_activity", fixed_text(result.water_activity, 4)},
                                       {"model", std::string(to_string(options.activity))}})
      << '\n';
}

// What a laboratory checks its own figures with.
void add_checks(const SolvedWater& solved, std::ostream& out) {
  const ChargeBalance& charge = solved.charge;
  if (std::isfinite(charge.error_percent)) {
    const std::string assigned =
        charge.assigned_mol_per_kg == 0
            ? ""
            : say("page.water.charge_given_to",
                  {{"ion", solved.water.charge_assigned_to},
                   {"mmol_per_kg", format_number(1000 * charge.assigned_mol_per_kg, 4)}});
    out << say("page.water.charge", {{"cations", format_number(1000 * charge.cations, 4)},
                                     {"anions", format_number(1000 * charge.anions, 4)},
                                     {"percent", fixed_text(charge.error_percent, 1)},
                                     {"assigned", assigned}})
        << '\n';
  }
  const double us_per_cm = solved.conductivity.us_per_cm;
  out << say("page.water.alkalinity",
             {{"mmol_per_kg", format_number(1000 * solved.alkalinity_mol_per_kg, 4)}})
      << (std::isfinite(us_per_cm) ? say("page.water.conductivity",
                                         {{"us_per_cm", detail::significant_text(us_per_cm, 2)}})
                                   : "")
      << '\n';
}

void add_element(const ElementShares& element, Rows& rows) {
  rows.push_back({element.word, "", amount(element.mol_per_kg), say("page.water.in_all")});
  std::size_t hidden = 0;
  for (const ElementForm& form : element.forms) {
    if (form.percent < kLeastPercent) {
      ++hidden;
      continue;
    }
    const bool solid = form.kind == PhaseKind::solid;
    rows.push_back({"  " + form.name, fixed_text(form.percent, 1) + " %", amount(form.mol_per_kg),
                    solid ? say("page.water.solid") : fixed_text(form.log10_activity, 3)});
  }
  if (hidden > 0) {
    rows.push_back({"  " + say(hidden == 1 ? "page.water.hidden_form" : "page.water.hidden_forms",
                               {{"count", std::to_string(hidden)},
                                {"percent", format_number(kLeastPercent)}})});
  }
}

// Ions and gases of water alone, which belong to no element above.
void add_own_forms(const EquilibriumResult& result, const std::vector<ElementShares>& elements,
                   Rows& rows) {
  const auto belongs = [&](const std::string& name) {
    return std::any_of(elements.begin(), elements.end(), [&](const ElementShares& element) {
      return std::any_of(element.forms.begin(), element.forms.end(),
                         [&](const ElementForm& form) { return form.name == name; });
    });
  };
  rows.push_back({say("page.water.itself")});
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    if (!(result.molality[i] > kLeastMolality) || belongs(result.species[i])) continue;
    rows.push_back({"  " + result.species[i], "", amount(result.molality[i]),
                    fixed_text(result.log10_activity[i], 3)});
  }
}

void add_elements(const Speciation& speciation, std::ostream& out) {
  Rows rows{{say("page.water.forms"), say("page.water.share"), "mol/kg",
             say("page.water.log10_activity")}};
  for (const ElementShares& element : speciation.elements) add_element(element, rows);
  add_own_forms(speciation.solved.result, speciation.elements, rows);
  out << '\n'
      << say("page.water.elements") << '\n'
      << detail::aligned(
             rows, {{Align::left, 22}, {Align::right, 7}, {Align::right, 13}, {Align::right, 15}});
}

// "forms: 9.9152e-04 mol/kg", "may form", or "3.9 times the copper, or 15 times the chloride".
std::string words_of(const SolidNeed& need) {
  if (need.formed_mol_per_kg > 0)
    return say("page.water.solid_forms", {{"mol_per_kg", amount(need.formed_mol_per_kg)}});
  std::vector<std::string> times;
  for (const auto& [ingredient, factor] : need.needs) {
    times.push_back(say("page.water.times_the",
                        {{"factor", format_number(factor, 3)}, {"ingredient", ingredient}}));
  }
  if (!times.empty()) return detail::join(times, say("page.water.or"));
  return say(need.index > kSupersaturated ? "page.water.may_form" : "page.water.just_saturated");
}

// Name, index, its uncertainty where readings were given, and what it needs.
Rows solid_rows(const Speciation& speciation, bool measured) {
  Rows rows{{"", say("page.water.index"), say("page.water.needs")}};
  if (measured) rows.front().insert(rows.front().end() - 1, "+/-");
  for (const SolidNeed& need : speciation.solids) {
    if (need.index <= kLeastIndexShown) continue;
    const double index = std::abs(need.index) < kSupersaturated ? 0 : need.index;
    std::vector<std::string> row{need.name, fixed_text(index, 3)};
    if (measured) row.push_back(fixed_text(speciation.solved.index_uncertainty.at(need.name), 2));
    row.push_back(words_of(need) +
                  (need.slow_to_form.empty() ? "" : say("page.water.slow_to_form")));
    rows.push_back(std::move(row));
  }
  return rows;
}

void add_solids(const Speciation& speciation, std::ostream& out) {
  const EquilibriumResult& result = speciation.solved.result;
  const std::vector<SolidNeed>& needs = speciation.solids;
  const bool measured = !speciation.solved.index_uncertainty.empty();
  std::vector<Column> columns{{Align::left, 22}, {Align::right, 0}};
  if (measured) columns.push_back({Align::right, 0});
  out << '\n'
      << say("page.water.solids") << '\n'
      << detail::aligned(solid_rows(speciation, measured), columns);
  const bool wanted = std::any_of(needs.begin(), needs.end(), [](const SolidNeed& need) {
    return need.index > kSupersaturated;
  });
  if (result.allowed_solids.empty()) {
    out << "  " << say(wanted ? "page.water.none_allowed" : "page.water.none_wanted") << '\n';
  } else if (std::none_of(needs.begin(), needs.end(),
                          [](const SolidNeed& need) { return need.formed_mol_per_kg > 0; })) {
    out << "  "
        << say("page.water.none_forms", {{"count", std::to_string(result.allowed_solids.size())}})
        << '\n';
  }
  out << "  " << say("page.water.index_words", {{"least", format_number(kLeastIndexShown)}})
      << '\n';
  if (measured) out << "  " << say("page.water.uncertainty_words") << '\n';
  out << "  " << say("page.water.needs_words") << '\n';
}

void add_gases(const EquilibriumResult& result, std::ostream& out) {
  Rows rows{{"", say("page.water.fugacity")}};
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    if (std::isfinite(result.log10_fugacity[g]))
      rows.push_back({result.gases[g], fixed_text(result.log10_fugacity[g], 2)});
  }
  out << '\n' << say("page.water.gases") << '\n' << detail::aligned(rows);
}

void caution(std::ostream& out, const std::string& text) {
  out << '\n' << say("page.caution", {{"caution", text}});
}

void note(std::ostream& out, const std::string& text) {
  out << '\n' << say("page.remark", {{"note", text + '.'}});
}

// Where a laboratory measured, what is not there matters.
void add_imbalance(const SolvedWater& solved, std::ostream& out) {
  constexpr double kUsual = 5;  // percent
  if (solved.index_uncertainty.empty() || !(std::abs(solved.charge.error_percent) > kUsual)) return;
  const std::string absent =
      solved.water.missing.empty()
          ? ""
          : say("page.water.absent", {{"ions", detail::join(solved.water.missing, ", ")}});
  caution(out, say("page.water.imbalance", {{"absent", absent}}));
}

void add_notes(const SolvedWater& solved, std::ostream& out) {
  const AnalysedWater& water = solved.water;
  add_imbalance(solved, out);
  for (const auto& name : water.set_aside)
    caution(out, say("page.water.set_aside", {{"ion", name}}));
  for (const auto& warning : solved.result.warnings) caution(out, warning + '.');
  for (const auto& name : water.at_limit) caution(out, say("page.water.at_limit", {{"ion", name}}));
  for (const auto& name : water.below_limit)
    note(out, say("page.water.below_limit", {{"ion", name}}));
  for (const auto& text : water.assumed) note(out, text);
  for (const auto& remark : solved.result.remarks) note(out, remark);
  const auto& estimated = solved.result.estimated_heats;
  if (!estimated.empty())
    note(out, say("equilibrium.estimated_heat", {{"species", detail::join(estimated, ", ")}}));
  out << '\n';
}

void add_certificate(const Certificate& certificate, const Dataset& dataset, std::ostream& out) {
  const std::string equations =
      say("page.water.equations",
          {{"mass", format_number(certificate.mass_balance, 2)},
           {"charge", format_number(certificate.charge_balance, 2)},
           {"supersaturation", format_number(std::max(certificate.supersaturation, 0.0), 2)},
           {"gap", format_number(std::abs(certificate.duality_gap), 2)},
           {"activity", format_number(certificate.activity_error, 2)}});
  out << '\n'
      << say(certificate.holds() ? "page.water.certificate_holds" : "page.water.certificate_fails",
             {{"equations", equations},
              {"stability", format_number(certificate.stability, 2)},
              {"water_activity", format_number(certificate.water_activity, 3)},
              {"iterations", std::to_string(certificate.iterations)}})
      << '\n';
  const std::string starts = std::to_string(certificate.starts);
  if (certificate.answers > 1) {
    out << say("page.water.another_answer", {{"starts", starts},
                                             {"answers", std::to_string(certificate.answers)},
                                             {"above", format_number(certificate.next_answer, 3)}})
        << '\n';
  } else if (certificate.starts > 1) {
    out << say("page.water.same_answer", {{"starts", starts}}) << '\n';
  }
  out << say("page.water.not_how_fast") << '\n'
      << say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}})
      << '\n';
}

}  // namespace

std::string speciation_text(const SolvedWater& water, const Dataset& dataset) {
  const Speciation speciation = speciation_of(water, dataset);
  const SolvedWater& solved = speciation.solved;
  std::ostringstream out;
  const EquilibriumResult& result = solved.result;
  if (result.status == Status::converged && result.certificate.holds()) {
    add_water(solved, out);
    add_checks(solved, out);
    add_elements(speciation, out);
    add_solids(speciation, out);
    add_gases(result, out);
    add_notes(solved, out);
  }
  add_certificate(result.certificate, dataset, out);
  return out.str();
}

}  // namespace aeruca
