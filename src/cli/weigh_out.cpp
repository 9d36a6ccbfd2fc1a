// aeruca bath weigh-out: grams from the shelf, or of every form when none is named.

#include <cmath>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "cli/bath_output.hpp"
#include "cli/bath_words.hpp"
#include "render/describe_bath_making.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

using detail::Align;
using detail::aligned;
using detail::format_number;
using detail::say;
using Rows = std::vector<std::vector<std::string>>;

// One result for each form asked about: the named one, or all.
std::vector<WeighOut> weigh_forms(const Dataset& dataset, WeighOutRequest request) {
  std::vector<std::string> forms = shelf_forms(dataset, request.salt);
  if (!request.form.empty()) forms = {request.form};
  std::vector<WeighOut> results;
  for (const auto& form : forms) {
    request.form = form;
    results.push_back(weigh_out(dataset, request));
  }
  return results;
}

// Errors name the option as it was typed.
[[noreturn]] void rethrow(const InputError& problem, bool molar) {
  const std::string given = molar ? "mol_per_l" : "percent";
  if (problem.parameter == "temperature_c")
    throw InputError("--temperature", problem.value, problem.accepted);
  throw InputError(option_named(problem.parameter == "strength" ? given : problem.parameter),
                   problem.value, problem.accepted);
}

std::vector<WeighOut> weigh_named(const Dataset& dataset, const WeighOutRequest& request) {
  try {
    return weigh_forms(dataset, request);
  } catch (const InputError& problem) {
    rethrow(problem, request.unit == StrengthUnit::mol_per_l);
  } catch (const UnknownName& problem) {
    if (problem.kind != "form") throw;
    throw InputError("--form", problem.name,
                     detail::join(shelf_forms(dataset, request.salt), ", "));
  }
}

// One form as it is described; of several, the reagents of each.
void print_json(const std::vector<WeighOut>& results, const WeighOutRequest& asked,
                Context& context) {
  const WeighOut& first = results.front();
  Json out = detail::json_of(first);
  out["volume_l"] = asked.volume_l;
  if (results.size() > 1) {
    for (const char* key : {"form", "reagents", "blank_mg_per_l", "traps"}) out.erase(key);
    for (const WeighOut& result : results)
      out["forms"][result.form] = detail::json_of(result.reagents);
  }
  add_data_line(out, context);
  out["uses_dataset_figures"] = first.dissolves != Dissolves::not_known;
  context.out << detail::document_text(out);
}

void print_one(const WeighOut& result, const WeighOutRequest& asked, Context& context) {
  Rows rows;
  for (const auto& reagent : result.reagents) {
    rows.push_back({reagent.name, reagent.formula, format_number(reagent.grams, 4) + " g"});
  }
  context.out << aligned(rows, {{Align::left}, {Align::left}, {Align::right}}) << '\n'
              << say("page.weigh.make_up");
  if (asked.reagent_chloride_percent > 0) {
    context.out << ' '
                << say("page.weigh.chloride",
                       {{"mg_per_l", format_number(result.blank_mg_per_l, 3)}});
  }
  context.out << '\n';
  if (result.traps.empty()) return;
  context.out << '\n' << say("page.weigh.mistakes") << '\n';
  rows.clear();
  for (const auto& trap : result.traps)
    rows.push_back({trap.mistake, "x " + format_number(trap.factor, 3)});
  context.out << aligned(rows);
}

void print_all(const std::vector<WeighOut>& results, Context& context) {
  Rows rows{{"--form", say("page.weigh.reagent"), say("column.formula"), say("column.grams")}};
  for (const auto& result : results) {
    std::string form = result.form;
    for (const auto& reagent : result.reagents) {
      rows.push_back({form, reagent.name, reagent.formula, format_number(reagent.grams, 4)});
      form = "  " + say("page.weigh.with");
    }
  }
  context.out << aligned(rows, {{Align::left}, {Align::left}, {Align::left}, {Align::right}})
              << '\n'
              << detail::paragraph(say("page.weigh.one_line"), 100);
}

}  // namespace

void print_weigh_out(const WeighRequest& request, Context& context) {
  WeighOutRequest asked = request.request;
  const bool molar = std::isnan(request.percent);
  asked.unit = molar ? StrengthUnit::mol_per_l : StrengthUnit::percent_w_v;
  asked.strength = molar ? request.mol_per_l : request.percent;
  const auto dataset = context.dataset();
  const std::vector<WeighOut> results = weigh_named(*dataset, asked);
  const WeighOut& first = results.front();
  if (context.json) return print_json(results, asked, context);
  context.out << say("page.weigh.title", {{"litres", format_number(asked.volume_l, 4)},
                                          {"percent", format_number(first.percent_w_v, 4)},
                                          {"mol_per_l", format_number(first.mol_per_l, 4)},
                                          {"salt", first.salt}})
              << "\n\n";
  if (results.size() == 1) {
    print_one(first, asked, context);
  } else {
    print_all(results, context);
  }
  context.out << '\n' << first.solubility_words << '\n';
  for (const auto& caution : first.cautions) context.out << "! " << caution << '\n';
  context.out << '\n'
              << say("page.data_set_line",
                     {{"version", dataset->version}, {"hash", dataset->content_hash}})
              << '\n';
}

}  // namespace aeruca::cli
