#include "render/fields_text.hpp"

#include <cmath>
#include <sstream>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"

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
  return axis_title(axis) + " from " + format_number(axis.low) + " to " + format_number(axis.high);
}

void print_footer(std::ostream& out, const std::string& version, const std::string& hash) {
  out << "\nThermodynamics says what may form in endless time, not what forms this week. "
         "Values are activities.\n"
      << "Data set " << version << " (content " << hash << ")\n";
}

void print_fields(std::ostream& out, const FieldDiagram& diagram) {
  out << "\nFields (share of the frame)\n";
  Rows rows;
  for (const Field& field : diagram.fields) {
    rows.push_back({field.species, std::string(to_string(field.kind)),
                    fixed_text(100 * field.area_fraction, 1) + " %",
                    "around " + place(diagram.options, field.label)});
  }
  out << aligned(rows, {{Align::left}, {Align::left}, {Align::right}, {Align::left}});
}

void print_edges(std::ostream& out, const FieldDiagram& diagram) {
  out << "\nEdges (reaction, log10 K, line; +/- is one standard uncertainty)\n";
  for (const Edge& edge : diagram.edges) {
    const bool volts = !edge.line.vertical && diagram.options.y.quantity == AxisQuantity::eh_v;
    out << "  " << edge.left << " | " << edge.right << "   " << place(diagram.options, edge.from)
        << "  to  " << place(diagram.options, edge.to) << "\n    " << edge.reaction << "   log10 K "
        << fixed_text(edge.log10_k, 2) << " +/- " << fixed_text(edge.log10_k_uncertainty, 2)
        << "\n    " << edge.line.text << "   (+/- "
        << fixed_text(edge.line.uncertainty, volts ? 4 : 2) << ")\n";
  }
}

void print_corners(std::ostream& out, const FieldDiagram& diagram) {
  out << "\nCorners (" << axis_title(diagram.options.x) << ", " << axis_title(diagram.options.y)
      << ")\n";
  Rows rows;
  for (const Corner& corner : diagram.corners)
    rows.push_back({place(diagram.options, corner.at), join(corner.species, " / ")});
  out << aligned(rows, {{Align::left}, {Align::left}});
}

void print_text(std::ostream& out, const FieldDiagram& diagram) {
  out << "Stability fields of copper: " << axis_range(diagram.options.x) << ", "
      << axis_range(diagram.options.y) << "\n"
      << conditions_text(diagram.options) << '\n';
  print_fields(out, diagram);
  print_edges(out, diagram);
  print_corners(out, diagram);
  for (const WaterLine& water : diagram.water_lines) {
    if (!water.part.empty())
      out << (water.gas == "H2(g)" ? "\nWater below this line gives off hydrogen (1 bar): "
                                   : "\nWater above this line gives off oxygen (1 bar): ")
          << place(diagram.options, water.part[0]) << "  to  "
          << place(diagram.options, water.part[1]);
  }
  out << "\n\nWithout a field here: " << join(diagram.without_field, ", ") << '\n';
  for (const LeftOut& each : diagram.left_out)
    out << "Left out: " << each.name << " (" << each.reason << ")\n";
  for (const std::string& warning : diagram.warnings) out << "Note: " << warning << '\n';
  out << "Constants used (see aeruca constants): " << join(diagram.figures, " ") << '\n';
  print_footer(out, diagram.dataset_version, diagram.dataset_hash);
}

// Two tests: the stated uncertainties, and the other published constants.
std::string certainty(const PointAnswer& answer, double coverage) {
  const bool outside = answer.gap_log10 > coverage * answer.uncertainty_log10;
  const std::string deviations =
      format_number(coverage) + " standard uncertainties of the constants";
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

std::string diagram_text(const FieldDiagram& diagram) {
  std::ostringstream out;
  print_text(out, diagram);
  return out.str();
}

std::string point_text(const FieldOptions& options, Point point, const PointAnswer& answer,
                       const Dataset& dataset) {
  std::ostringstream out;
  out << "At " << axis_title(options.x) << " " << format_number(point.x) << ", "
      << axis_title(options.y) << " " << format_number(point.y) << "; " << conditions_text(options)
      << "\n"
      << "Most stable: " << answer.species << '\n';
  if (!answer.runner_up.empty()) {
    out << "Next: " << answer.runner_up << ", behind by "
        << fixed_text(answer.gap_kj_per_mol_copper, 2) << " kJ per mol copper ("
        << fixed_text(answer.gap_log10, 2) << " +/- " << fixed_text(answer.uncertainty_log10, 2)
        << " log units)\n"
        << certainty(answer, options.coverage) << '\n';
  }
  out << "It holds log10 a(Cu(2+)) at " << fixed_text(answer.log10_copper_ii, 2) << ".\n";
  print_footer(out, dataset.version, dataset.content_hash);
  return out.str();
}

}  // namespace aeruca::detail
