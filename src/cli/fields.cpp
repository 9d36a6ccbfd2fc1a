// aeruca fields: which form of copper is the most stable, over two conditions or at a point.

#include <memory>
#include <optional>
#include <utility>

#include "aeruca/stability.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/named_number.hpp"
#include "render/fields_text.hpp"

namespace aeruca::cli {

namespace {

struct Arguments {
  std::string x = "pH", y = "Eh";
  std::vector<double> x_range, y_range;
  std::optional<double> ph, eh;
  std::vector<std::string> held, dissolved, leave_out, only;
  double copper = -6, temperature = 25;
  std::string missing_enthalpy = "estimate";
  std::vector<double> at;
};

constexpr const char* kNamedLog10 = "NAME=LOG10, such as Cl(-)=-0.44 for an activity of 0.36";

LeftOut left_out_of(const std::string& text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos) return {text, ""};
  return {std::string(detail::trim(text.substr(0, colon))),
          std::string(detail::trim(text.substr(colon + 1)))};
}

std::vector<double> default_range(const std::string& axis) {
  if (axis == "pH") return {0, 14};
  if (axis == "Eh") return {-1, 1.4};
  if (axis == "dissolved copper") return {-10, 0};
  return {-6, 0};
}

Axis axis_of(const std::string& text, const std::vector<double>& range) {
  const std::vector<double> ends = range.empty() ? default_range(text) : range;
  return axis_from(text, ends.at(0), ends.at(1));
}

FieldOptions options_of(const Arguments& arguments) {
  FieldOptions options;
  options.x = axis_of(arguments.x, arguments.x_range);
  options.y = axis_of(arguments.y, arguments.y_range);
  options.temperature_c = arguments.temperature;
  options.ph = arguments.ph;
  options.eh_v = arguments.eh;
  options.log10_copper = arguments.copper;
  options.log10_activity = named_numbers("--set", arguments.held, kNamedLog10);
  options.log10_ligand = named_numbers("--dissolved", arguments.dissolved, kNamedLog10);
  for (const std::string& text : arguments.leave_out) options.left_out.push_back(left_out_of(text));
  options.only = arguments.only;
  options.missing_enthalpy = missing_enthalpy_of(arguments.missing_enthalpy);
  return options;
}

// What cannot be asked for together, or left out at all.
void check(const Arguments& arguments) {
  const auto is_axis = [&](const char* name) { return arguments.x == name || arguments.y == name; };
  if (arguments.ph && is_axis("pH"))
    throw UsageError("--ph", "accepted is pH as an axis or --ph, not both");
  if (arguments.eh && is_axis("Eh"))
    throw UsageError("--eh", "accepted is Eh as an axis or --eh, not both");
  for (const std::string& text : arguments.leave_out) {
    const std::string name = left_out_of(text).name;
    if (name == "H2O" || name == "H(+)")
      throw InputError("--leave-out", name,
                       "a species or solid other than H2O and H(+), which every water holds");
  }
}

void run(const Arguments& arguments, Context& context) {
  check(arguments);
  const FieldModel model(context.dataset(), options_of(arguments));
  if (!arguments.at.empty()) {
    const Point point{arguments.at.at(0), arguments.at.at(1)};
    const PointAnswer answer = model.at(point.x, point.y);
    const auto dataset = context.dataset();
    context.out << (context.json ? detail::point_json(model.options(), point, answer, *dataset)
                                 : detail::point_text(model.options(), point, answer, *dataset));
  } else {
    const FieldDiagram diagram = model.diagram();
    context.out << (context.json ? detail::diagram_json(diagram) : detail::diagram_text(diagram));
  }
}

}  // namespace

void add_fields(Command& app, Context& context) {
  auto arguments = std::make_shared<Arguments>();
  Command* command = app.add_subcommand(
      "fields", "stability fields: which form of copper is the most stable where");
  command->add_option("--x", arguments->x,
                      "pH, Eh, \"dissolved copper\", \"dissolved CO3(2-)\", Cl(-), CO2(g) ...");
  command->add_option("--y", arguments->y, "as --x");
  command->add_option("--x-range", arguments->x_range, "LOW HIGH")->expected(2);
  command->add_option("--y-range", arguments->y_range, "LOW HIGH")->expected(2);
  command->add_option("--ph", arguments->ph, "pH, when not an axis");
  command->add_option("--eh", arguments->eh,
                      "Eh in V against the standard hydrogen electrode, when not an axis");
  command->add_option("--set", arguments->held,
                      "NAME=LOG10: log10 activity (gas: fugacity in bar) held");
  command->add_option("--dissolved", arguments->dissolved,
                      "NAME=LOG10: held in whichever dissolved form predominates");
  command->add_option("--copper", arguments->copper,
                      "log10 activity of each dissolved copper species (-6)");
  command->add_option("--temperature", arguments->temperature, "degrees C, 0 to 50 (25)");
  command->add_option("--leave-out", arguments->leave_out,
                      "NAME or \"NAME: reason\"; may be repeated");
  command->add_option("--missing-enthalpy", arguments->missing_enthalpy, kMissingEnthalpyHelp);
  command->add_option("--only", arguments->only, "NAME: consider only these candidates");
  command->add_option("--at", arguments->at, "X Y: the answer at one point instead of the diagram")
      ->expected(2);
  const Command* totals = add_totals_fields(*command, context);
  command->callback([arguments, totals, &context] {
    if (totals->count_all() == 0) run(*arguments, context);
  });
}

}  // namespace aeruca::cli
