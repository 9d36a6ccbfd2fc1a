// aeruca bath weigh-out: grams from the shelf, or of every form when none is named.

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "cli/bath_output.hpp"
#include "cli/bath_words.hpp"

namespace aeruca::cli {
namespace {

using detail::format_number;
using Json = nlohmann::ordered_json;
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
  std::string option =
      problem.parameter == "strength" ? (molar ? "mol-per-l" : "percent") : problem.parameter;
  for (char& letter : option) letter = letter == '_' ? '-' : letter;
  throw InputError("--" + option, problem.value, problem.accepted);
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

Json reagents_json(const WeighOut& result) {
  Json list = Json::array();
  for (const auto& reagent : result.reagents) {
    list.push_back({{"name", reagent.name},
                    {"formula", reagent.formula},
                    {"grams", reagent.grams},
                    {"molar_mass_g_per_mol", reagent.molar_mass_g_per_mol}});
  }
  return list;
}

void print_json(const std::vector<WeighOut>& results, const WeighOutRequest& asked,
                Context& context) {
  const WeighOut& first = results.front();
  const BathSolubility& limit = first.solubility;
  Json out{{"salt", first.salt},
           {"volume_l", asked.volume_l},
           {"mol_per_l", first.mol_per_l},
           {"percent_w_v", first.percent_w_v}};
  if (results.size() == 1) {
    out["form"] = first.form;
    out["blank_mg_per_l"] = first.blank_mg_per_l;
    out["reagents"] = reagents_json(first);
    for (const auto& trap : first.traps)
      out["traps"].push_back({{"mistake", trap.mistake}, {"factor", trap.factor}});
  } else {
    for (const auto& result : results) out["forms"][result.form] = reagents_json(result);
  }
  const bool known = !std::isnan(limit.most_mol_per_l);
  out["solubility"] = {
      {"solid", limit.solid},
      {"most_mol_per_l", known ? Json(limit.most_mol_per_l) : Json(nullptr)},
      {"temperature_c", known ? Json(limit.temperature_c) : Json(nullptr)},
      {"dissolves", known ? Json(first.dissolves == Dissolves::yes) : Json(nullptr)},
      {"source", limit.source},
      {"note", limit.note}};
  out["cautions"] = first.cautions;
  add_data_line(out, context);
  out["uses_dataset_figures"] = known;
  context.out << out.dump(2) << '\n';
}

void print_one(const WeighOut& result, const WeighOutRequest& asked, Context& context) {
  Rows rows;
  for (const auto& reagent : result.reagents) {
    rows.push_back({reagent.name, reagent.formula, format_number(reagent.grams, 4) + " g"});
  }
  context.out << aligned(rows) << "\nand make up to the volume.";
  if (asked.reagent_chloride_percent > 0) {
    context.out << " Chloride brought in by the reagents: "
                << format_number(result.blank_mg_per_l, 3) << " mg/L.";
  }
  context.out << '\n';
  if (result.traps.empty()) return;
  context.out << "\nMistakes and what they give (strength got / wanted):\n";
  rows.clear();
  for (const auto& trap : result.traps)
    rows.push_back({trap.mistake, "x " + format_number(trap.factor, 3)});
  context.out << aligned(rows);
}

void print_all(const std::vector<WeighOut>& results, Context& context) {
  Rows rows{{"--form", "reagent", "formula", "grams"}};
  for (const auto& result : results) {
    std::string form = result.form;
    for (const auto& reagent : result.reagents) {
      rows.push_back({form, reagent.name, reagent.formula, format_number(reagent.grams, 4)});
      form = "  with";
    }
  }
  context.out << aligned(rows)
              << "\nand make up to the volume. One line (with its second) makes the bath: the "
                 "label says which form\n"
                 "stands on the shelf. --form NAME shows the mistakes to avoid with it.\n";
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
  context.out << "For " << format_number(asked.volume_l, 4) << " L of "
              << format_number(first.percent_w_v, 4) << " % w/v ("
              << format_number(first.mol_per_l, 4) << " mol/L) " << first.salt << ", weigh\n\n";
  if (results.size() == 1) {
    print_one(first, asked, context);
  } else {
    print_all(results, context);
  }
  context.out << '\n' << first.solubility_words << '\n';
  for (const auto& caution : first.cautions) context.out << "! " << caution << '\n';
  context.out << "\nData set " << dataset->version << " (content " << dataset->content_hash
              << ")\n";
}

}  // namespace aeruca::cli
