#include "aeruca/render.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <iomanip>
#include <sstream>

#include "aeruca/speciation.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"

namespace aeruca {
namespace {

using detail::Align;
using detail::Column;
using detail::fixed_text;
using detail::format_number;

constexpr double kLeastPercent = 0.1;     // share of an element that gets a line; JSON has all
constexpr double kLeastMolality = 1e-15;  // mol/kg of a form of water alone
constexpr double kLeastIndexShown = -3;   // JSON has all
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
  out << "pH " << fixed_text(result.ph, 3)
      << (options.acidity == Acidity::given_ph ? " (given)" : " (from the charge balance)")
      << ", Eh " << fixed_text(result.eh_v, 4) << " V against SHE (pe " << fixed_text(result.pe, 3)
      << "), " << format_number(options.temperature_c) << " degrees C\n";
  if (solved.water.potential && !solved.water.potential->figure.empty())
    out << "read as " << solved.water.potential->said << '\n';
  out << "ionic strength " << format_number(result.ionic_strength, 4) << " mol/kg, water activity "
      << fixed_text(result.water_activity, 4) << ", activity model " << to_string(options.activity)
      << '\n';
}

// What a laboratory checks its own figures with.
void add_checks(const SolvedWater& solved, std::ostream& out) {
  const ChargeBalance& charge = solved.charge;
  if (std::isfinite(charge.error_percent)) {
    out << "charge: cations " << format_number(1000 * charge.cations, 4) << ", anions "
        << format_number(1000 * charge.anions, 4) << " meq/kg, error "
        << fixed_text(charge.error_percent, 1) << " % of their sum";
    if (charge.assigned_mol_per_kg != 0) {
      out << "; given to " << solved.water.charge_assigned_to << ": "
          << format_number(1000 * charge.assigned_mol_per_kg, 4) << " mmol/kg";
    }
    out << '\n';
  }
  out << "alkalinity " << format_number(1000 * solved.alkalinity_mol_per_kg, 4) << " mmol/kg";
  if (std::isfinite(solved.conductivity.us_per_cm)) {
    out << "; conductivity about " << detail::significant_text(solved.conductivity.us_per_cm, 2)
        << " uS/cm at 25 degrees C";
  }
  out << '\n';
}

void add_element(const ElementShares& element, Rows& rows) {
  rows.push_back({element.word, "", amount(element.mol_per_kg), "in all"});
  std::size_t hidden = 0;
  for (const ElementForm& form : element.forms) {
    if (form.percent < kLeastPercent) {
      ++hidden;
      continue;
    }
    const bool solid = form.kind == PhaseKind::solid;
    rows.push_back({"  " + form.name, fixed_text(form.percent, 1) + " %", amount(form.mol_per_kg),
                    solid ? "solid" : fixed_text(form.log10_activity, 3)});
  }
  if (hidden > 0) {
    rows.push_back({"  and " + std::to_string(hidden) + (hidden == 1 ? " form" : " forms") +
                    " below " + format_number(kLeastPercent) + " %"});
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
  rows.push_back({"water itself"});
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    if (!(result.molality[i] > kLeastMolality) || belongs(result.species[i])) continue;
    rows.push_back({"  " + result.species[i], "", amount(result.molality[i]),
                    fixed_text(result.log10_activity[i], 3)});
  }
}

void add_elements(const Speciation& speciation, std::ostream& out) {
  Rows rows{{"element and its forms", "share", "mol/kg", "log10 activity"}};
  for (const ElementShares& element : speciation.elements) add_element(element, rows);
  add_own_forms(speciation.solved.result, speciation.elements, rows);
  out << "\nWhere each element is\n"
      << detail::aligned(
             rows, {{Align::left, 22}, {Align::right, 7}, {Align::right, 13}, {Align::right, 15}});
}

// "forms: 9.9152e-04 mol/kg", "may form", or "3.9 times the copper, or 15 times the chloride".
std::string words_of(const SolidNeed& need) {
  if (need.formed_mol_per_kg > 0) return "forms: " + amount(need.formed_mol_per_kg) + " mol/kg";
  std::string text;
  for (const auto& [ingredient, factor] : need.needs)
    text += (text.empty() ? "" : ", or ") + format_number(factor, 3) + " times the " + ingredient;
  if (text.empty())
    text = need.index > kSupersaturated ? "may form; it was not allowed to" : "just saturated";
  return text;
}

// Name, index, its uncertainty where readings were given, and what it needs.
Rows solid_rows(const Speciation& speciation, bool measured) {
  Rows rows{{"", "Saturation index", "to form it needs"}};
  if (measured) rows.front().insert(rows.front().end() - 1, "+/-");
  for (const SolidNeed& need : speciation.solids) {
    if (need.index <= kLeastIndexShown) continue;
    const double index = std::abs(need.index) < kSupersaturated ? 0 : need.index;
    std::vector<std::string> row{need.name, fixed_text(index, 3)};
    if (measured) row.push_back(fixed_text(speciation.solved.index_uncertainty.at(need.name), 2));
    row.push_back(words_of(need) + (need.slow_to_form.empty() ? "" : " (slow to form)"));
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
  out << "\nSolids\n" << detail::aligned(solid_rows(speciation, measured), columns);
  const bool wanted = std::any_of(needs.begin(), needs.end(), [](const SolidNeed& need) {
    return need.index > kSupersaturated;
  });
  if (result.allowed_solids.empty()) {
    out << (wanted
                ? "  no solid was allowed to form; see --solids all (the water is supersaturated)\n"
                : "  no solid was allowed to form; none is supersaturated\n");
  } else if (std::none_of(needs.begin(), needs.end(),
                          [](const SolidNeed& need) { return need.formed_mol_per_kg > 0; })) {
    out << "  none of the " << result.allowed_solids.size() << " allowed forms\n";
  }
  out << "  Index: log10 of saturation, 0 saturated, above 0 supersaturated; those above "
      << kLeastIndexShown << " are shown.\n"
      << (measured ? "  +/-: one standard uncertainty, of the readings and the constants, a figure "
                     "that solid and dissolved forms share counted once.\n"
                   : "")
      << "  Needs: the activity of one ingredient, all else as it is, pH and Eh "
         "included.\n";
}

void add_gases(const EquilibriumResult& result, std::ostream& out) {
  Rows rows{{"", "log10 of the fugacity in bar"}};
  for (std::size_t g = 0; g < result.gases.size(); ++g) {
    if (std::isfinite(result.log10_fugacity[g]))
      rows.push_back({result.gases[g], fixed_text(result.log10_fugacity[g], 2)});
  }
  out << "\nGases in equilibrium with it\n" << detail::aligned(rows);
}

// Where a laboratory measured, what is not there matters.
void add_imbalance(const SolvedWater& solved, std::ostream& out) {
  constexpr double kUsual = 5;  // percent
  if (solved.index_uncertainty.empty() || !(std::abs(solved.charge.error_percent) > kUsual)) return;
  out << "\nCaution: the charge does not balance within 5 %: an ion is missing or a reading is "
         "wrong";
  if (!solved.water.missing.empty())
    out << "; not given and taken as absent: " << detail::join(solved.water.missing, ", ");
  out << '.';
}

void add_notes(const SolvedWater& solved, std::ostream& out) {
  const AnalysedWater& water = solved.water;
  add_imbalance(solved, out);
  for (const auto& name : water.set_aside)
    out << "\nCaution: " << name << " is left out, for no potential says which form it has.";
  for (const auto& warning : solved.result.warnings) out << "\nCaution: " << warning << '.';
  for (const auto& name : water.at_limit)
    out << "\nCaution: " << name
        << " is below its detection limit and taken at it: its indices are "
        << "at most these.";
  for (const auto& name : water.below_limit)
    out << "\nNote: " << name << " is below its detection limit and taken as absent.";
  for (const auto& text : water.assumed) out << "\nNote: " << text << '.';
  for (const auto& remark : solved.result.remarks) out << "\nNote: " << remark << '.';
  out << '\n';
}

void add_certificate(const Certificate& certificate, const Dataset& dataset, std::ostream& out) {
  out << "\nCertificate: mass balance " << format_number(certificate.mass_balance, 2) << ", charge "
      << format_number(certificate.charge_balance, 2) << ", supersaturation left "
      << format_number(std::max(certificate.supersaturation, 0.0), 2) << ", gap "
      << format_number(std::abs(certificate.duality_gap), 2) << ", activity "
      << format_number(certificate.activity_error, 2) << " (relative or in ln), stability "
      << format_number(certificate.stability, 2) << ", water activity "
      << format_number(certificate.water_activity, 3) << " (" << certificate.iterations
      << " iterations): " << (certificate.holds() ? "holds" : "DOES NOT HOLD") << '\n'
      << "Equilibrium says what is possible, not how fast.\n"
      << "Data set " << dataset.version << " (content " << dataset.content_hash << ")\n";
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
