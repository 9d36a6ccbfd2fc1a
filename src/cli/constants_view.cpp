#include "cli/constants_view.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "render/describe_dataset.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

using detail::format_number;
using detail::Json;

std::string data_line(const Dataset& dataset) {
  return "data set " + dataset.version + ", content " + dataset.content_hash;
}

void print_figure(const Dataset& dataset, const Figure& figure, std::ostream& out) {
  out << (figure.chosen ? "  * " : "    ") << detail::Description<Figure>::value_text(figure)
      << "   [" << figure.id << "]";
  if (!figure.conditions.empty()) out << "  " << figure.conditions;
  out << "  (" << to_string(figure.basis) << ")\n";
  out << "      " << dataset.source(figure.source).text;
  if (!figure.place.empty()) out << "; " << figure.place;
  out << '\n';
  if (!figure.reason.empty())
    out << (figure.chosen ? "      used: " : "      not used: ") << figure.reason << '\n';
  if (!figure.note.empty()) out << "      note: " << figure.note << '\n';
}

std::string combination(const Dataset& dataset, const Species& species) {
  std::string text;
  for (std::size_t j = 0; j < species.components.size(); ++j) {
    const double coefficient = species.components[j];
    if (coefficient == 0) continue;
    text += (text.empty() ? "" : coefficient < 0 ? " - " : " + ");
    if (text.empty() && coefficient < 0) text = "- ";
    if (std::abs(coefficient) != 1) text += format_number(std::abs(coefficient)) + " ";
    text += dataset.components[j];
  }
  return text;
}

void print_species(const Dataset& dataset, const Species& species, std::ostream& out) {
  out << species.name << ": " << species.title << ", " << to_string(species.kind) << ", "
      << format_number(species.molar_mass_g_per_mol) << " g/mol\n";
  out << "  from components: " << combination(dataset, species) << '\n';
  out << "  log10 K " << format_number(species.log10_k, 5) << " +/- "
      << format_number(species.log10_k_uncertainty, 2)
      << " (25 C, I = 0; uncertainties combined in quadrature along the chain)\n";
  if (std::isnan(species.enthalpy_kj_per_mol))
    out << "  enthalpy not known: used at 25 C only\n";
  else
    out << "  enthalpy " << format_number(species.enthalpy_kj_per_mol, 5) << " kJ/mol"
        << (dataset.rests_on_estimate(species, 0) ? ", estimated in part" : "") << "; log10 K +/- "
        << format_number(dataset.log10_k_uncertainty(species, 0), 2) << " at 0 C, "
        << format_number(dataset.log10_k_uncertainty(species, 50), 2) << " at 50 C\n";
  if (!species.figures.empty()) out << "  rests on " << detail::join(species.figures, ", ") << '\n';
  if (!species.slow_to_form.empty()) out << "  often left out: " << species.slow_to_form << '\n';
  out << '\n';
}

Json figure_json(const Dataset& dataset, const Figure& figure) {
  Json json = detail::json_of(figure);
  json["source_text"] = dataset.source(figure.source).text;
  return json;
}

// Its components by name, where the record has them in the order of the data set.
Json species_json(const Species& species, const Dataset& dataset) {
  Json json = detail::json_of(species);
  json["components"] = Json::object();
  for (std::size_t j = 0; j < species.components.size(); ++j)
    if (species.components[j] != 0)
      json["components"][dataset.components[j]] = species.components[j];
  return json;
}

Json header(const Dataset& dataset) {
  return Json{{"data_set", detail::data_set_json(dataset)}};
}

// Figures of one subject and quantity together, the chosen one first, subjects in the order of the
// files.
std::vector<std::vector<const Figure*>> group(const std::vector<const Figure*>& figures) {
  std::vector<std::vector<const Figure*>> groups;
  std::map<std::pair<std::string, std::string>, std::size_t> position;
  for (const Figure* figure : figures) {
    const auto [at, first] =
        position.emplace(std::pair{figure->subject, figure->quantity}, groups.size());
    if (first) groups.emplace_back();
    groups[at->second].push_back(figure);
  }
  for (auto& members : groups)
    std::stable_sort(members.begin(), members.end(),
                     [](const Figure* a, const Figure* b) { return a->chosen && !b->chosen; });
  return groups;
}

}  // namespace

std::vector<std::string> quantities(const Dataset& dataset) {
  std::vector<std::string> names;
  for (const Figure& figure : dataset.figures)
    if (std::find(names.begin(), names.end(), figure.quantity) == names.end())
      names.push_back(figure.quantity);
  return names;
}

void print_summary(const Dataset& dataset, std::ostream& out) {
  std::map<std::string, std::array<int, 4>> counts;
  for (const Figure& figure : dataset.figures)
    ++counts[figure.quantity].at(static_cast<std::size_t>(figure.basis));
  out << data_line(dataset) << "\n"
      << dataset.figures.size() << " figures from " << dataset.sources.size() << " sources, "
      << dataset.species.size() << " species, " << dataset.salts.size() << " salts\n\n";
  std::vector<std::vector<std::string>> rows{
      {"looked-up", "memory", "derived", "estimated", "quantity"}};
  for (const auto& [quantity, by_basis] : counts) {
    rows.emplace_back();
    for (const int count : by_basis) rows.back().push_back(std::to_string(count));
    rows.back().push_back(quantity);
  }
  const detail::Column right{detail::Align::right, 0};
  out << detail::aligned(rows, {right, right, right, right});
  out << "\nShow figures with words (aeruca constants nantokite), --species, --quantity, --basis, "
         "--chosen or --all.\n";
}

void print_figures(const Dataset& dataset, const ConstantsRequest& request,
                   const std::vector<const Figure*>& figures, Context& context) {
  const bool described = !request.species.empty() && dataset.contains(request.species);
  const Species* species = described ? &dataset.at(request.species) : nullptr;
  if (context.json) {
    Json result = header(dataset);
    if (species != nullptr) result["species"] = species_json(*species, dataset);
    result["figures"] = Json::array();
    for (const Figure* figure : figures) result["figures"].push_back(figure_json(dataset, *figure));
    context.out << detail::document_text(result);
    return;
  }
  context.out << data_line(dataset) << "\n\n";
  if (species != nullptr) print_species(dataset, *species, context.out);
  for (const auto& members : group(figures)) {
    context.out << members.front()->subject << ", " << members.front()->quantity << '\n';
    for (const Figure* figure : members) print_figure(dataset, *figure, context.out);
    context.out << '\n';
  }
  context.out << figures.size() << " figures; * marks what the calculations use\n";
}

void print_sources(const Dataset& dataset, const ConstantsRequest& request, Context& context) {
  std::map<std::string, int> uses;
  for (const Figure& figure : dataset.figures) ++uses[figure.source];
  Json result = header(dataset);
  result["sources"] = Json::array();
  std::string text = data_line(dataset) + "\n\n";
  for (const Source& source : dataset.sources) {
    const auto holds = [&](const std::string& word) {
      return (source.key + " " + source.text).find(word) != std::string::npos;
    };
    if (!std::all_of(request.words.begin(), request.words.end(), holds)) continue;
    result["sources"].push_back(detail::json_of(source));
    result["sources"].back()["figures"] = uses[source.key];
    text += source.key + " (" + std::to_string(uses[source.key]) + " figures)\n    " + source.text +
            "\n";
    if (!source.doi.empty()) text += "    doi " + source.doi + "\n";
  }
  if (result["sources"].empty())
    throw Error("no source holds '" + detail::join(request.words, " ") +
                "'; run aeruca constants --sources for all of them");
  context.out << (context.json ? detail::document_text(result) : text);
}

}  // namespace aeruca::cli
