#include "render/totals_fields_text.hpp"

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/describe_totals_fields.hpp"
#include "render/json.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kNameWidth = 38;
constexpr std::size_t kNumberWidth = 12;

std::string range_line(const ConditionAxis& axis) {
  return axis_title(axis) + " " +
         say("word.range", {{"low", format_number(axis.low)}, {"high", format_number(axis.high)}}) +
         "\n";
}

std::string field_lines(const TotalsFieldDiagram& diagram) {
  std::string text = say("page.totals.fields") + "\n";
  for (const Field& field : diagram.fields) {
    text += "  " + padded(field.species, kNameWidth) +
            padded(format_number(100 * field.area_fraction, 3) + " %", kNumberWidth) +
            say("page.totals.label", {{"at_x", format_number(field.label.x, 3)},
                                      {"at_y", format_number(field.label.y, 3)}}) +
            "\n";
  }
  return text;
}

std::string edge_lines(const TotalsFieldDiagram& diagram) {
  std::string text = say("page.totals.edges") + "\n";
  for (const TracedEdge& edge : diagram.edges) {
    const Point from = edge.line.front();
    const Point to = edge.line.back();
    text += "  " + edge.left + " | " + edge.right + "\n    " +
            say("page.totals.edge", {{"from_x", format_number(from.x, 4)},
                                     {"from_y", format_number(from.y, 4)},
                                     {"to_x", format_number(to.x, 4)},
                                     {"to_y", format_number(to.y, 4)}}) +
            (edge.reaction.empty() ? "" : "; " + edge.reaction) + "\n";
  }
  return text;
}

}  // namespace

std::string totals_fields_text(const TotalsFieldDiagram& diagram) {
  std::string text = range_line(diagram.options.x) + range_line(diagram.options.y) +
                     diagram.conditions + "\n\n" + field_lines(diagram) + "\n" +
                     edge_lines(diagram) + "\n";
  for (const std::string& warning : diagram.warnings)
    text += "  " + say("page.note", {{"note", warning}}) + "\n";
  text += "  " + say("page.totals.solved", {{"waters", std::to_string(diagram.solved)}}) + "\n\n";
  return text +
         say("page.data_set_line",
             {{"version", diagram.dataset_version}, {"hash", diagram.dataset_hash}}) +
         "\n";
}

std::string totals_fields_json(const TotalsFieldDiagram& diagram) {
  Json json{{"x", axis_title(diagram.options.x)}, {"y", axis_title(diagram.options.y)}};
  json.update(json_of(diagram));
  json["data_set"] = {{"version", diagram.dataset_version}, {"content_hash", diagram.dataset_hash}};
  return document_text(json);
}

}  // namespace aeruca::detail
