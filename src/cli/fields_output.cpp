#include "cli/fields_output.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"

namespace aeruca::cli {

namespace {

using Json = nlohmann::ordered_json;
using detail::fixed_text;
using detail::padded;

int decimals_of(const Axis& axis) {
  return axis.quantity == AxisQuantity::eh_v ? 3 : 2;
}

std::string point_text(const FieldOptions& options, Point p) {
  return fixed_text(p.x, decimals_of(options.x)) + ", " + fixed_text(p.y, decimals_of(options.y));
}

std::string range_text(const Axis& axis) {
  return axis_title(axis) + " from " + detail::format_number(axis.low) + " to " +
         detail::format_number(axis.high);
}

void print_footer(Context& context, const std::string& version, const std::string& hash) {
  context.out << "\nThermodynamics says what may form in endless time, not what forms this week. "
                 "Values are activities.\n"
              << "Data set " << version << " (content " << hash << ")\n";
}

void print_fields(Context& context, const FieldDiagram& diagram) {
  context.out << "\nFields (share of the frame)\n";
  for (const Field& field : diagram.fields) {
    context.out << "  " << padded(field.species, 18)
                << padded(std::string(to_string(field.kind)), 9)
                << padded(fixed_text(100 * field.area_fraction, 1) + " %", 9) << "around "
                << point_text(diagram.options, field.label) << '\n';
  }
}

void print_edges(Context& context, const FieldDiagram& diagram) {
  context.out << "\nEdges (reaction, log10 K, line; +/- is one standard uncertainty)\n";
  for (const Edge& edge : diagram.edges) {
    const bool volts = !edge.line.vertical && diagram.options.y.quantity == AxisQuantity::eh_v;
    context.out << "  " << edge.left << " | " << edge.right << "   "
                << point_text(diagram.options, edge.from) << "  to  "
                << point_text(diagram.options, edge.to) << "\n    " << edge.reaction
                << "   log10 K " << fixed_text(edge.log10_k, 2) << " +/- "
                << fixed_text(edge.log10_k_uncertainty, 2) << "\n    " << edge.line.text
                << "   (+/- " << fixed_text(edge.line.uncertainty, volts ? 4 : 2) << ")\n";
  }
}

void print_corners(Context& context, const FieldDiagram& diagram) {
  context.out << "\nCorners (" << axis_title(diagram.options.x) << ", "
              << axis_title(diagram.options.y) << ")\n";
  for (const Corner& corner : diagram.corners)
    context.out << "  " << padded(point_text(diagram.options, corner.at), 18)
                << detail::join(corner.species, " / ") << '\n';
}

void print_text(Context& context, const FieldDiagram& diagram) {
  context.out << "Stability fields of copper: " << range_text(diagram.options.x) << ", "
              << range_text(diagram.options.y) << "\n"
              << conditions_text(diagram.options) << '\n';
  print_fields(context, diagram);
  print_edges(context, diagram);
  print_corners(context, diagram);
  for (const WaterLine& water : diagram.water_lines) {
    if (!water.part.empty())
      context.out << (water.gas == "H2(g)" ? "\nWater below this line gives off hydrogen (1 bar): "
                                           : "\nWater above this line gives off oxygen (1 bar): ")
                  << point_text(diagram.options, water.part[0]) << "  to  "
                  << point_text(diagram.options, water.part[1]);
  }
  context.out << "\n\nWithout a field here: " << detail::join(diagram.without_field, ", ") << '\n';
  for (const LeftOut& each : diagram.left_out)
    context.out << "Left out: " << each.name << " (" << each.reason << ")\n";
  for (const std::string& warning : diagram.warnings) context.out << "Note: " << warning << '\n';
  context.out << "Constants used (see aeruca constants): " << detail::join(diagram.figures, " ")
              << '\n';
  print_footer(context, diagram.dataset_version, diagram.dataset_hash);
}

Json json_of(Point p) {
  return Json::array({p.x, p.y});
}

Json json_of(const std::vector<Polygon>& polygons) {
  Json all = Json::array();
  for (const Polygon& polygon : polygons) {
    Json one = Json::array();
    for (const Point p : polygon) one.push_back(json_of(p));
    all.push_back(std::move(one));
  }
  return all;
}

Json json_of(const Field& field) {
  Json rivals = Json::array();
  for (const Rival& rival : field.rivals)
    rivals.push_back({{"species", rival.species},
                      {"gap_log10", rival.gap_log10},
                      {"gap_uncertainty_log10", rival.gap_uncertainty_log10}});
  return {{"species", field.species},
          {"formula", field.formula},
          {"kind", to_string(field.kind)},
          {"area_fraction", field.area_fraction},
          {"label", json_of(field.label)},
          {"outlines", json_of(field.outlines)},
          {"rivals", rivals},
          {"colour", field.colour}};
}

Json json_of(const LineEquation& line) {
  Json out{{"vertical", line.vertical}, {"uncertainty", line.uncertainty}};
  if (line.vertical)
    out["vertical_x"] = line.vertical_x;
  else
    out["slope"] = line.slope, out["intercept"] = line.intercept;
  if (line.text.empty()) return out;
  out["constant"] = line.constant;
  out["terms"] = Json::object();
  for (const auto& [quantity, coefficient] : line.terms) out["terms"][quantity] = coefficient;
  out["text"] = line.text;
  return out;
}

Json json_of(const Edge& edge) {
  return {{"left", edge.left},
          {"right", edge.right},
          {"from", json_of(edge.from)},
          {"to", json_of(edge.to)},
          {"reaction", edge.reaction},
          {"log10_k", edge.log10_k},
          {"log10_k_uncertainty", edge.log10_k_uncertainty},
          {"line", json_of(edge.line)},
          {"figures", edge.figures},
          {"shared_figures", edge.shared_figures}};
}

Json json_of(const Axis& axis) {
  return {{"quantity", axis_title(axis)}, {"low", axis.low}, {"high", axis.high}};
}

Json json_of(const FieldDiagram& diagram) {
  Json out{{"x", json_of(diagram.options.x)},
           {"y", json_of(diagram.options.y)},
           {"conditions", conditions_text(diagram.options)}};
  for (const char* list : {"fields", "edges", "corners", "water_lines", "left_out"})
    out[list] = Json::array();
  for (const Field& field : diagram.fields) out["fields"].push_back(json_of(field));
  for (const Edge& edge : diagram.edges) out["edges"].push_back(json_of(edge));
  for (const Corner& corner : diagram.corners)
    out["corners"].push_back({{"at", json_of(corner.at)}, {"species", corner.species}});
  for (const WaterLine& water : diagram.water_lines) {
    Json part = Json::array();
    for (const Point p : water.part) part.push_back(json_of(p));
    out["water_lines"].push_back(
        {{"gas", water.gas}, {"line", json_of(water.line)}, {"part", part}});
  }
  for (const LeftOut& each : diagram.left_out)
    out["left_out"].push_back({{"name", each.name}, {"reason", each.reason}});
  out["candidates"] = diagram.candidates;
  out["without_field"] = diagram.without_field;
  out["warnings"] = diagram.warnings;
  out["figures"] = diagram.figures;
  out["data_set"] = {{"version", diagram.dataset_version}, {"content_hash", diagram.dataset_hash}};
  return out;
}

Json json_of(const PointAnswer& answer) {
  return {{"species", answer.species},
          {"runner_up", answer.runner_up},
          {"gap_log10", answer.gap_log10},
          {"gap_kj_per_mol_copper", answer.gap_kj_per_mol_copper},
          {"uncertainty_log10", answer.uncertainty_log10},
          {"spread_log10", answer.spread_log10},
          {"overtaken_by", answer.overtaken_by},
          {"overtaking_figure", answer.overtaking_figure},
          {"decided", answer.decided},
          {"log10_copper_ii", answer.log10_copper_ii}};
}

// Two tests: the stated uncertainties, and the other published constants.
std::string certainty(const PointAnswer& answer, double coverage) {
  const bool outside = answer.gap_log10 > coverage * answer.uncertainty_log10;
  const std::string deviations =
      detail::format_number(coverage) + " standard uncertainties of the constants";
  if (answer.decided) {
    return "Decided: the gap is more than " + deviations +
           ",\nand no other published constant in the data set, taken alone, changes the answer.";
  }
  std::string text =
      outside ? "Decided by the chosen constants only: the gap is more than " + deviations
              : "Not decided: the gap is within " + deviations;
  if (!answer.overtaken_by.empty()) {
    text += std::string(outside ? ", but" : ";") + "\nwith the other published constant " +
            answer.overtaking_figure + " the most stable is " + answer.overtaken_by +
            " (aeruca constants shows it)";
  }
  return text + ".";
}

}  // namespace

void print_diagram(Context& context, const FieldDiagram& diagram) {
  if (context.json)
    context.out << json_of(diagram).dump(2) << '\n';
  else
    print_text(context, diagram);
}

void print_point(Context& context, const FieldModel& model, Point point,
                 const PointAnswer& answer) {
  const FieldOptions& options = model.options();
  const Dataset& dataset = *context.dataset();
  if (context.json) {
    Json out{{"x", point.x}, {"y", point.y}, {"conditions", conditions_text(options)}};
    out.update(json_of(answer));
    out["data_set"] = {{"version", dataset.version}, {"content_hash", dataset.content_hash}};
    context.out << out.dump(2) << '\n';
    return;
  }
  context.out << "At " << axis_title(options.x) << " " << detail::format_number(point.x) << ", "
              << axis_title(options.y) << " " << detail::format_number(point.y) << "; "
              << conditions_text(options) << "\n"
              << "Most stable: " << answer.species << '\n';
  if (!answer.runner_up.empty()) {
    context.out << "Next: " << answer.runner_up << ", behind by "
                << fixed_text(answer.gap_kj_per_mol_copper, 2) << " kJ per mol copper ("
                << fixed_text(answer.gap_log10, 2) << " +/- "
                << fixed_text(answer.uncertainty_log10, 2) << " log units)\n"
                << certainty(answer, options.coverage) << '\n';
  }
  context.out << "It holds log10 a(Cu(2+)) at " << fixed_text(answer.log10_copper_ii, 2) << ".\n";
  print_footer(context, dataset.version, dataset.content_hash);
}

}  // namespace aeruca::cli
