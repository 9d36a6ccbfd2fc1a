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
    axes_of_diagram<D>(take);
    take("conditions", &D::conditions, "", "held", at_a_glance);
    net_of_diagram<D>(take);
    take("solved", &D::solved, "", "waters solved", at_a_glance);
    ground_of_diagram<D>(take);
  }
};

}  // namespace aeruca::detail
