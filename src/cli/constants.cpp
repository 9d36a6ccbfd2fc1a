#include <algorithm>
#include <initializer_list>
#include <memory>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/constants_view.hpp"

namespace aeruca::cli {
namespace {

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return result;
}

// `2 CuCl(aq) + H2O = ...` names a species as a whole term; a pair names it between spaces.
bool names_species(const Figure& figure, const std::string& species) {
  if (figure.subject == species) return true;
  const std::string text = " " + figure.subject + " ";
  const bool equation = text.find(" = ") != std::string::npos;
  for (std::size_t at = text.find(" " + species + " "); at != std::string::npos;
       at = text.find(" " + species + " ", at + 1)) {
    if (!equation) return true;
    const std::size_t after = at + species.size() + 2;
    const char next = after < text.size() ? text[after] : '=';
    if (next == '+' || next == '=') return true;
  }
  return false;
}

bool holds(const Dataset& dataset, const Figure& figure, const std::string& word) {
  const std::initializer_list<std::string_view> texts{figure.id,
                                                      figure.subject,
                                                      figure.quantity,
                                                      figure.note,
                                                      figure.place,
                                                      figure.source,
                                                      dataset.source(figure.source).text};
  return std::any_of(texts.begin(), texts.end(), [&](std::string_view text) {
    return lower(text).find(word) != std::string::npos;
  });
}

// One on record without a constant has figures to show, and no place among the species.
void check_species(const Dataset& dataset, const std::string& species) {
  const bool on_record =
      std::any_of(dataset.figures.begin(), dataset.figures.end(),
                  [&](const Figure& figure) { return names_species(figure, species); });
  if (!on_record) static_cast<void>(dataset.at(species));
}

void check_request(const Dataset& dataset, const ConstantsRequest& request) {
  if (!request.species.empty()) check_species(dataset, request.species);
  if (request.quantity.empty()) return;
  const std::vector<std::string> known = quantities(dataset);
  for (const std::string& quantity : known)
    if (quantity.find(request.quantity) != std::string::npos) return;
  throw UnknownName("quantity", request.quantity, detail::nearest_name(request.quantity, known));
}

bool wanted(const Dataset& dataset, const Figure& figure, const ConstantsRequest& request) {
  if (request.chosen && !figure.chosen) return false;
  if (!request.basis.empty() && to_string(figure.basis) != request.basis) return false;
  if (!request.quantity.empty() && figure.quantity.find(request.quantity) == std::string::npos)
    return false;
  if (!request.species.empty() && !names_species(figure, request.species)) return false;
  return std::all_of(request.words.begin(), request.words.end(),
                     [&](const std::string& word) { return holds(dataset, figure, lower(word)); });
}

std::vector<const Figure*> select(const Dataset& dataset, const ConstantsRequest& request) {
  check_request(dataset, request);
  std::vector<const Figure*> figures;
  for (const Figure& figure : dataset.figures)
    if (wanted(dataset, figure, request)) figures.push_back(&figure);
  if (figures.empty())
    throw Error("no figure fits '" + detail::join(request.words, " ") +
                "' and the other filters; try a species (nantokite), a quantity (log10_k, "
                "solubility), a salt or an "
                "author (powell), or fewer filters");
  return figures;
}

void run(const ConstantsRequest& request, Context& context) {
  const auto dataset = context.dataset();
  if (request.sources) {
    print_sources(*dataset, request, context);
  } else if (request.is_empty() && !context.json) {
    print_summary(*dataset, context.out);
  } else {
    print_figures(*dataset, request, select(*dataset, request), context);
  }
}

}  // namespace

void add_constants(Command& app, Context& context) {
  auto request = std::make_shared<ConstantsRequest>();
  Command* command =
      app.add_subcommand("constants", "every figure of the data set with its source");
  command->add_option(
      "words", request->words,
      "show figures that hold all these words (id, species, quantity, author, note)");
  command->add_option(
      "--species", request->species,
      "show what the data set knows of one species, such as nantokite or 'CuCl2(-)'");
  command->add_option("--quantity", request->quantity,
                      "show one quantity, such as log10_k, enthalpy, solubility, density");
  command
      ->add_option(
          "--basis", request->basis,
          "show figures that were looked-up, or recalled from memory, derived, or estimated by "
          "a rule")
      ->one_of({"looked-up", "memory", "derived", "estimated"});
  command->add_flag("--chosen", request->chosen, "show only what the calculations use");
  command->add_flag("--all", request->all, "show every figure");
  command->add_flag("--sources", request->sources, "list the sources in place of the figures");
  command->callback([request, &context] { run(*request, context); });
}

}  // namespace aeruca::cli
