#pragma once

// Fields at fixed totals, described once.

#include <string>
#include <tuple>

#include "aeruca/totals_fields.hpp"
#include "render/describe_stability.hpp"

namespace aeruca::detail {

template <>
struct Description<TracedEdge> {
  static constexpr std::string_view name = "TracedEdge";
  static constexpr std::string_view meaning = "Where two fields at fixed totals meet: a curve.";
  template <class Take>
  static void figures(Take take) {
    take("left", &TracedEdge::left, "", "on its left");
    take("right", &TracedEdge::right, "", "on its right");
    take("line", &TracedEdge::line, "", "points along it", digits(5));
    take("reaction", &TracedEdge::reaction, "", "reaction");
  }
  static std::string said(const TracedEdge& edge) {
    return edge.left + " | " + edge.right + (edge.reaction.empty() ? "" : ": ") + edge.reaction;
  }
};

template <>
struct Description<TotalsFieldDiagram> {
  static constexpr std::string_view name = "TotalsFieldDiagram";
  static constexpr std::string_view meaning =
      "Fields, edges and corners of a water of fixed totals over two axes.";
  using D = TotalsFieldDiagram;
  template <class Take>
  static void figures(Take take) {
    take(
        "x_axis", [](const D& d) { return named(d.options.x); }, "", "title and range", apart);
    take(
        "y_axis", [](const D& d) { return named(d.options.y); }, "", "title and range", apart);
    take("conditions", &D::conditions, "", "held", at_a_glance);
    take("fields", &D::fields, "", "fields");
    take("edges", &D::edges, "", "edges");
    take("corners", &D::corners, "", "corners");
    take("water_lines", &D::water_lines, "", "where water gives off a gas");
    take("solved", &D::solved, "", "waters solved", at_a_glance);
    take("warnings", &D::warnings, "", "what the reader must know besides");
    take("figures", &D::figures, "", "constants used");
    take("dataset_version", &D::dataset_version, "", "version of the data set", apart);
    take("dataset_hash", &D::dataset_hash, "", "content of the data set", apart);
  }

 private:
  static std::tuple<std::string, double, double> named(const ConditionAxis& axis) {
    return {axis_title(axis), axis.low, axis.high};
  }
};

}  // namespace aeruca::detail
