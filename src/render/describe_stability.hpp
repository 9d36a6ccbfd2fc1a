#pragma once

// The results of `stability`, described once: a diagram with its fields, edges and corners, and the
// answer at one point.

#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "aeruca/not_given.hpp"
#include "aeruca/stability.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<Axis> {
  static constexpr std::string_view name = "Axis";
  static constexpr std::string_view meaning = "An axis and its range.";
  template <class Take>
  static void figures(Take take) {
    take("quantity", &axis_title, "", "quantity");
    take("low", &Axis::low, "", "from");
    take("high", &Axis::high, "", "to");
  }
};

template <>
struct Description<LeftOut> {
  static constexpr std::string_view name = "LeftOut";
  static constexpr std::string_view meaning = "A candidate left out on purpose, and why.";
  template <class Take>
  static void figures(Take take) {
    take("name", &LeftOut::name, "", "left out");
    take("reason", &LeftOut::reason, "", "because");
  }
};

template <>
struct Description<Rival> {
  static constexpr std::string_view name = "Rival";
  static constexpr std::string_view meaning =
      "A candidate that shares a field within the uncertainty.";
  template <class Take>
  static void figures(Take take) {
    take("species", &Rival::species, "", "rival");
    take("gap_log10", &Rival::gap_log10, "", "behind by, log units per copper atom", digits(2));
    take("gap_uncertainty_log10", &Rival::gap_uncertainty_log10, "", "its standard uncertainty",
         digits(2));
  }
};

template <>
struct Description<Field> {
  static constexpr std::string_view name = "Field";
  static constexpr std::string_view meaning =
      "Part of the plane where one candidate is the most stable.";
  template <class Take>
  static void figures(Take take) {
    take("species", &Field::species, "", "most stable");
    take("formula", &Field::formula, "", "formula");
    take("kind", &Field::kind, "", "kind");
    take("area_fraction", &Field::area_fraction, "", "share of the frame", digits(3));
    take("label", &Field::label, "", "around", digits(3));
    take("label_room", &Field::label_room, "", "room there, in frame widths", apart);
    take("outlines", &Field::outlines, "", "outlines");
    take("pieces", &Field::pieces, "", "convex pieces, one in each ligand cell", apart);
    take("rivals", &Field::rivals, "", "rivals");
    take("colour", &Field::colour, "", "colour of the mineral");
  }
};

template <>
struct Description<LineEquation> {
  static constexpr std::string_view name = "LineEquation";
  static constexpr std::string_view meaning = "y = intercept + slope x, or x = vertical_x.";
  using L = LineEquation;
  template <class Take>
  static void figures(Take take) {
    take("vertical", &L::vertical, "", "x does not change along it");
    take(
        "slope", [](const L& l) { return l.vertical ? kNotGiven : l.slope; }, "",
        "slope; not known of a vertical line");
    take(
        "intercept", [](const L& l) { return l.vertical ? kNotGiven : l.intercept; }, "",
        "intercept; not known of a vertical line");
    take(
        "vertical_x", [](const L& l) { return l.vertical ? l.vertical_x : kNotGiven; }, "",
        "x of a vertical line");
    take("uncertainty", &L::uncertainty, "", "standard uncertainty of the intercept or of x",
         digits(2));
    take("published_low", &L::published_low, "",
         "how far lower it lies at most with one other published figure", digits(2));
    take("published_high", &L::published_high, "", "how far higher likewise", digits(2));
    take("published_low_figure", &L::published_low_figure, "", "that figure");
    take("published_high_figure", &L::published_high_figure, "", "that figure");
    take(
        "constant", [](const L& l) { return l.text.empty() ? kNotGiven : l.constant; }, "",
        "constant of the line in letters");
    take("terms", &L::terms, "", "coefficient of each quantity");
    take("text", &L::text, "", "the line in letters");
  }
  static std::string said(const L& line) {
    if (!line.text.empty()) return line.text;
    if (line.vertical) return "x = " + format_number(line.vertical_x, 4);
    return "y = " + format_number(line.intercept, 4) + " + " + format_number(line.slope, 4) + " x";
  }

 private:
};

template <>
struct Description<Edge> {
  static constexpr std::string_view name = "Edge";
  static constexpr std::string_view meaning = "Where two fields meet: one reaction at equilibrium.";
  template <class Take>
  static void figures(Take take) {
    take("left", &Edge::left, "", "on its left");
    take("right", &Edge::right, "", "on its right");
    take("from_point", &Edge::from, "", "from", digits(3), key("from"));
    take("to_point", &Edge::to, "", "to", digits(3), key("to"));
    take("reaction", &Edge::reaction, "", "reaction");
    take("log10_k", &Edge::log10_k, "", "log10 K");
    take("log10_k_uncertainty", &Edge::log10_k_uncertainty, "", "its standard uncertainty",
         digits(2));
    take("line", &Edge::line, "", "line");
    take("figures", &Edge::figures, "", "constants it rests on");
    take("shared_figures", &Edge::shared_figures, "", "those that enter both sides");
  }
  static std::string said(const Edge& edge) {
    return edge.left + " | " + edge.right + ": " + edge.reaction;
  }
};

template <>
struct Description<Corner> {
  static constexpr std::string_view name = "Corner";
  static constexpr std::string_view meaning = "Where three or more fields meet.";
  template <class Take>
  static void figures(Take take) {
    take("at", &Corner::at, "", "at", digits(3));
    take("species", &Corner::species, "", "fields that meet");
  }
};

template <>
struct Description<WaterLine> {
  static constexpr std::string_view name = "WaterLine";
  static constexpr std::string_view meaning = "Where a gas reaches 1 bar over the water.";
  template <class Take>
  static void figures(Take take) {
    take("gas", &WaterLine::gas, "", "gas");
    take("line", &WaterLine::line, "", "line");
    take("part", &WaterLine::part, "", "its ends in the frame", digits(3));
  }
};

// What diagrams at fixed activities and at fixed totals have in common.
template <class Diagram, class Take>
void axes_of_diagram(Take& take) {
  const auto named = [](const auto& axis) {
    return std::tuple<std::string, double, double>(axis_title(axis), axis.low, axis.high);
  };
  take(
      "x_axis", [named](const Diagram& d) { return named(d.options.x); }, "", "title and range",
      apart);
  take(
      "y_axis", [named](const Diagram& d) { return named(d.options.y); }, "", "title and range",
      apart);
}
template <class Diagram, class Take>
void net_of_diagram(Take& take) {
  take("fields", &Diagram::fields, "", "fields");
  take("edges", &Diagram::edges, "", "edges");
  take("corners", &Diagram::corners, "", "corners");
  take("water_lines", &Diagram::water_lines, "", "where water gives off a gas");
}
template <class Diagram, class Take>
void ground_of_diagram(Take& take) {
  take("warnings", &Diagram::warnings, "", "what the reader must know besides");
  take("figures", &Diagram::figures, "", "constants used");
  take("dataset_version", &Diagram::dataset_version, "", "version of the data set", apart);
  take("dataset_hash", &Diagram::dataset_hash, "", "content of the data set", apart);
}

template <>
struct Description<FieldDiagram> {
  static constexpr std::string_view name = "FieldDiagram";
  static constexpr std::string_view meaning = "Fields, edges and corners over two axes.";
  using D = FieldDiagram;
  template <class Take>
  static void figures(Take take) {
    axes_of_diagram<D>(take);
    take(
        "conditions", [](const D& d) { return conditions_text(d.options); }, "", "held",
        at_a_glance);
    net_of_diagram<D>(take);
    take("candidates", &D::candidates, "", "compared");
    take("without_field", &D::without_field, "", "nowhere the most stable here", at_a_glance);
    take("left_out", &left_out, "", "left out, and why", apart);
    take("estimated_heats", &D::estimated_heats, "",
         "candidates whose constant at this temperature rests on an estimated heat");
    ground_of_diagram<D>(take);
  }

 private:
  static std::vector<std::pair<std::string, std::string>> left_out(const D& diagram) {
    std::vector<std::pair<std::string, std::string>> found;
    for (const LeftOut& each : diagram.left_out) found.emplace_back(each.name, each.reason);
    return found;
  }
};

template <>
struct Description<PointAnswer> {
  static constexpr std::string_view name = "PointAnswer";
  static constexpr std::string_view meaning =
      "The most stable candidate at a point and how sure that is.";
  using P = PointAnswer;
  template <class Take>
  static void figures(Take take) {
    take("species", &P::species, "", "most stable");
    take("runner_up", &P::runner_up, "", "next");
    take("gap_log10", &P::gap_log10, "", "behind by, log units per copper atom", digits(3));
    take("gap_kj_per_mol_copper", &P::gap_kj_per_mol_copper, "kJ/mol", "the same per mol copper",
         digits(3));
    take("uncertainty_log10", &P::uncertainty_log10, "", "its standard uncertainty", digits(2));
    take("spread_log10", &P::spread_log10, "", "narrowed by another published constant by",
         digits(2));
    take("overtaken_by", &P::overtaken_by, "", "first with another published constant");
    take("overtaking_figure", &P::overtaking_figure, "", "that constant");
    take("decided", &P::decided, "", "decided");
    take("log10_copper_ii", &P::log10_copper_ii, "", "log10 a(Cu(2+)) held", digits(4));
  }
};

}  // namespace aeruca::detail
