// aeruca fields totals: fields of a water of fixed totals, traced.

#include <memory>
#include <optional>
#include <utility>

#include "aeruca/analysis.hpp"
#include "aeruca/casefile.hpp"
#include "aeruca/totals_fields.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/named_number.hpp"
#include "render/totals_fields_text.hpp"

namespace aeruca::cli {

namespace {

struct Arguments {
  std::string view, case_file, water;
  std::string x, y;
  std::vector<double> x_range, y_range;
  std::vector<std::string> totals, gases, leave_out;
  std::optional<double> ph, eh, oxygen, water_activity, temperature;
  std::string activity;
  int cells = TotalsFieldOptions{}.cells;
};

void take_axis(const char* option, const std::string& text, const std::vector<double>& range,
               ConditionAxis& axis) {
  if (text.empty() && range.empty()) return;
  if (text.empty()) {
    axis.low = range.at(0);
    axis.high = range.at(1);
    return;
  }
  const bool familiar = text == "pH" || text == "Eh";
  if (range.empty() && !familiar)
    throw UsageError(option, "an axis other than pH and Eh wants its range");
  const double low = !range.empty() ? range.at(0) : text == "pH" ? 0.0 : -1.0;
  const double high = !range.empty() ? range.at(1) : text == "pH" ? 14.0 : 1.4;
  axis = condition_axis(text, low, high);
}

// The totals, gases and temperature of a water of a case; its pH and potential are what the axes run
// over.
void take_case(const Arguments& a, const CaseWorkbooks& workbooks, const Dataset& dataset,
               TotalsFieldOptions& options) {
  const CaseFile file = read_case_file(a.case_file, workbooks);
  std::vector<std::string> names;
  for (const CaseWater& water : file.waters) {
    names.push_back(water.name);
    if (!a.water.empty() && water.name != a.water) continue;
    const AnalysedWater found = analyse(water.analysis, dataset);
    options.held.totals_mol_per_kg = found.input.totals_mol_per_kg;
    options.held.fugacity_bar = found.input.fugacity_bar;
    options.temperature_c = water.analysis.temperature_c;
    return;
  }
  if (names.empty())
    throw FileError(a.case_file, 0, "water", "missing; accepted is a case with one");
  throw UnknownName("water", a.water, detail::nearest_name(a.water, names));
}

TotalsFieldOptions options_of(const Arguments& a, const CaseWorkbooks& workbooks,
                              const Dataset& dataset) {
  TotalsFieldOptions options;
  if (!a.view.empty() && !a.case_file.empty())
    throw UsageError("--view, --case", "one water to start from, not two");
  if (!a.water.empty() && a.case_file.empty()) throw UsageError("--water", "only with --case");
  if (!a.view.empty()) options = totals_view(a.view).options;
  if (!a.case_file.empty()) take_case(a, workbooks, dataset, options);
  take_axis("--x", a.x, a.x_range, options.x);
  take_axis("--y", a.y, a.y_range, options.y);
  for (const auto& [name, moles] :
       named_numbers("--total", a.totals, "NAME=MOL_PER_KG, such as Cl(-)=0.5"))
    options.held.totals_mol_per_kg[name] = moles;
  for (const auto& [name, bar] : named_numbers("--gas", a.gases, "NAME=BAR, such as CO2(g)=4.2e-4"))
    options.held.fugacity_bar[name] = bar;
  if (a.ph) options.held.ph = a.ph;
  if (a.eh) options.held.eh_v = a.eh;
  if (a.oxygen) options.held.oxygen_bar = a.oxygen;
  if (a.water_activity) options.held.water_activity = a.water_activity;
  if (a.temperature) options.temperature_c = *a.temperature;
  if (!a.activity.empty()) options.activity = activity_model_from(a.activity);
  options.cells = a.cells;
  options.left_out.insert(options.left_out.end(), a.leave_out.begin(), a.leave_out.end());
  return options;
}

void run(const Arguments& arguments, Context& context) {
  const auto dataset = context.dataset();
  const TotalsFieldDiagram diagram =
      totals_field_diagram(dataset, options_of(arguments, context.case_workbooks, *dataset));
  context.out << (context.json ? detail::totals_fields_json(diagram)
                               : detail::totals_fields_text(diagram));
}

}  // namespace

Command* add_totals_fields(Command& fields, Context& context) {
  auto arguments = std::make_shared<Arguments>();
  Command* command = fields.add_subcommand(
      "totals", "fields of a water of fixed totals: each point an equilibrium, edges traced");
  command->add_option("--view", arguments->view,
                      "a water to start from: pit, chloride, carbon_dioxide or bath");
  command->add_option(
      "--case", arguments->case_file,
      "this water: totals, gases and temperature of the first water of a case file");
  command->add_option("--water", arguments->water,
                      "of the case, by its name, in place of the first");
  command->add_option("--x", arguments->x,
                      "pH, Eh, oxygen, \"total Cl(-)\", CO2(g), \"water activity\", temperature");
  command->add_option("--y", arguments->y, "as --x");
  command->add_option("--x-range", arguments->x_range, "LOW HIGH")->expected(2);
  command->add_option("--y-range", arguments->y_range, "LOW HIGH")->expected(2);
  command->add_option("--total", arguments->totals,
                      "NAME=MOL_PER_KG weighed in, dissolved or not; may be repeated");
  command->add_option("--gas", arguments->gases, "NAME=BAR held; may be repeated");
  command->add_option("--ph", arguments->ph, "pH, when not an axis");
  command->add_option("--eh", arguments->eh,
                      "Eh in V against the standard hydrogen electrode, when not an axis");
  command->add_option("--oxygen", arguments->oxygen, "oxygen in bar (air: 0.21), in place of Eh");
  command->add_option("--water-activity", arguments->water_activity, "held, when not an axis");
  command->add_option("--temperature", arguments->temperature, "degrees C, 0 to 50 (25)");
  command->add_option("--activity", arguments->activity,
                      "activity model: ideal, davies, sit (the default) or pitzer");
  command->add_option("--cells", arguments->cells, "of the first grid, to a side")
      ->capture_default_str();
  command->add_option("--leave-out", arguments->leave_out, "NAME of a solid or species");
  command->callback([arguments, &context] { run(*arguments, context); });
  return command;
}

}  // namespace aeruca::cli
