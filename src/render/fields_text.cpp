#include "render/fields_text.hpp"

#include <cmath>
#include <sstream>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

namespace {

using Rows = std::vector<std::vector<std::string>>;

int decimals_of(const Axis& axis) {
  return axis.quantity == AxisQuantity::eh_v ? 3 : 2;
}

std::string place(const FieldOptions& options, Point p) {
  return fixed_text(p.x, decimals_of(options.x)) + ", " + fixed_text(p.y, decimals_of(options.y));
}

std::string axis_range(const Axis& axis) {
  return say("page.fields.axis", {{"axis", axis_title(axis)},
                                  {"low", format_number(axis.low)},
                                  {"high", format_number(axis.high)}});
}

void print_footer(std::ostream& out, const std::string& version, const std::string& hash) {
  out << '\n'
      << say("page.fields.endless") << "\n"
      << say("page.data_set_line", {{"version", version}, {"hash", hash}}) << '\n';
}

void print_fields(std::ostream& out, const FieldDiagram& diagram) {
  out << '\n' << say("page.fields.heading") << '\n';
  Rows rows;
  for (const Field& field : diagram.fields) {
    rows.push_back({field.species, std::string(to_string(field.kind)),
                    fixed_text(100 * field.area_fraction, 1) + " %",
                    say("page.fields.around", {{"place", place(diagram.options, field.label)}})});
  }
  out << aligned(rows, {{Align::left}, {Align::left}, {Align::right}, {Align::left}});
}

std::string between(const FieldOptions& options, Point from, Point to) {
  return say("page.fields.from_to", {{"from", place(options, from)}, {"to", place(options, to)}});
}

// How far other published constants move the line.
std::string published_text(const LineEquation& line, int decimals) {
  if (line.published_low_figure.empty() && line.published_high_figure.empty()) return "";
  const auto end = [&](double value, const std::string& figure) {
    return figure.empty() ? std::string("0") : fixed_text(value, decimals) + " (" + figure + ")";
  };
  return "   " + say("page.fields.published",
                     {{"low", end(line.published_low, line.published_low_figure)},
                      {"high", end(line.published_high, line.published_high_figure)}});
}

void print_edges(std::ostream& out, const FieldDiagram& diagram) {
  out << '\n' << say("page.fields.edges") << '\n';
  for (const Edge& edge : diagram.edges) {
    const bool volts = !edge.line.vertical && diagram.options.y.quantity == AxisQuantity::eh_v;
    out << "  " << edge.left << " | " << edge.right << "   "
        << between(diagram.options, edge.from, edge.to) << "\n    " << edge.reaction
        << "   log10 K " << fixed_text(edge.log10_k, 2) << " +/- "
        << fixed_text(edge.log10_k_uncertainty, 2) << "\n    " << edge.line.text << "   (+/- "
        << fixed_text(edge.line.uncertainty, volts ? 4 : 2) << ")"
        << published_text(edge.line, volts ? 4 : 2) << '\n';
  }
}

void print_corners(std::ostream& out, const FieldDiagram& diagram) {
  out << '\n'
      << say("page.fields.corners",
             {{"axes", axis_title(diagram.options.x) + ", " + axis_title(diagram.options.y)}})
      << '\n';
  Rows rows;
  for (const Corner& corner : diagram.corners)
    rows.push_back({place(diagram.options, corner.at), join(corner.species, " / ")});
  out << aligned(rows, {{Align::left}, {Align::left}});
}

void print_text(std::ostream& out, const FieldDiagram& diagram) {
  out << say("page.fields.title",
             {{"axes", axis_range(diagram.options.x) + ", " + axis_range(diagram.options.y)}})
      << "\n"
      << conditions_text(diagram.options) << '\n';
  print_fields(out, diagram);
  print_edges(out, diagram);
  print_corners(out, diagram);
  for (const WaterLine& water : diagram.water_lines) {
    if (!water.part.empty())
      out << '\n'
          << say(water.gas == "H2(g)" ? "page.fields.hydrogen" : "page.fields.oxygen",
                 {{"line", between(diagram.options, water.part[0], water.part[1])}});
  }
  out << "\n\n"
      << say("page.fields.without", {{"forms", join(diagram.without_field, ", ")}}) << '\n';
  for (const LeftOut& each : diagram.left_out)
    out << say("page.fields.left_out", {{"form", each.name}, {"reason", each.reason}}) << '\n';
  for (const std::string& warning : diagram.warnings)
    out << say("page.remark", {{"note", warning}}) << '\n';
  out << say("page.fields.constants", {{"figures", join(diagram.figures, " ")}}) << '\n';
  print_footer(out, diagram.dataset_version, diagram.dataset_hash);
}

// Two tests: the stated uncertainties, and the other published constants.
std::string certainty(const PointAnswer& answer, double coverage) {
  const bool outside = answer.gap_log10 > coverage * answer.uncertainty_log10;
  const std::string deviations = format_number(coverage);
  if (answer.decided) return say("page.fields.decided", {{"deviations", deviations}});
  std::string other;
  if (!answer.overtaken_by.empty()) {
    other = say(outside ? "page.fields.but_other_constant" : "page.fields.and_other_constant",
                {{"figure", answer.overtaking_figure}, {"form", answer.overtaken_by}});
  }
  return say(outside ? "page.fields.decided_by_chosen" : "page.fields.not_decided",
             {{"deviations", deviations}, {"other", other}});
}

}  // namespace

std::string diagram_text(const FieldDiagram& diagram) {
  std::ostringstream out;
  print_text(out, diagram);
  return out.str();
}

std::string point_text(const FieldOptions& options, Point point, const PointAnswer& answer,
                       const Dataset& dataset) {
  std::ostringstream out;
  out << say("page.fields.at",
             {{"point", axis_title(options.x) + " " + format_number(point.x) + ", " +
                            axis_title(options.y) + " " + format_number(point.y)},
              {"conditions", conditions_text(options)}})
      << '\n'
      << say("page.fields.most_stable", {{"form", answer.species}}) << '\n';
  if (!answer.runner_up.empty()) {
    out << say("page.fields.next", {{"form", answer.runner_up},
                                    {"kj_per_mol", fixed_text(answer.gap_kj_per_mol_copper, 2)},
                                    {"gap", fixed_text(answer.gap_log10, 2) + " +/- " +
                                                fixed_text(answer.uncertainty_log10, 2)}})
        << '\n'
        << certainty(answer, options.coverage) << '\n';
  }
  out << say("page.fields.holds", {{"log10_activity", fixed_text(answer.log10_copper_ii, 2)}})
      << '\n';
  print_footer(out, dataset.version, dataset.content_hash);
  return out.str();
}

}  // namespace aeruca::detail
