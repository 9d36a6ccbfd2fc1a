// How far other published constants move an edge, against the gap on either side of it.

#include <cmath>

#include "aeruca/stability.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

FieldModel water_with_chloride() {
  FieldOptions options;
  options.x = {AxisQuantity::ph, "", 0, 14};
  options.y = {AxisQuantity::eh_v, "", -0.8, 1.4};
  options.log10_activity["Cl(-)"] = -1;
  return {default_dataset(), options};
}

}  // namespace

TEST_CASE("an edge moves by other published constants as far as they close the gap beside it") {
  const FieldModel model = water_with_chloride();
  const FieldDiagram diagram = model.diagram();
  int compared = 0;
  int moved = 0;
  for (const Edge& edge : diagram.edges) {
    const Point middle{(edge.from.x + edge.to.x) / 2, (edge.from.y + edge.to.y) / 2};
    for (const double side : {-1.0, 1.0}) {
      const double off = 1e-4 * side;
      const double x = middle.x + (edge.line.vertical ? off : 0);
      const double y = middle.y + (edge.line.vertical ? 0 : off);
      const PointAnswer at = model.at(x, y);
      const bool is_left = at.species == edge.left && at.runner_up == edge.right;
      const bool is_right = at.species == edge.right && at.runner_up == edge.left;
      if (!is_left && !is_right) continue;
      ++compared;
      // Beside the edge a figure that narrows the gap moves the edge this way.
      const double reach = side > 0 ? edge.line.published_high : -edge.line.published_low;
      const double per_unit = at.gap_log10 / std::abs(off);
      INFO(edge.left << " | " << edge.right << " towards " << side);
      CHECK(std::abs(at.spread_log10 - reach * per_unit) < 1e-6 * (1 + at.spread_log10));
      moved += reach > 0 ? 1 : 0;
    }
    CHECK(edge.line.published_low <= 0);
    CHECK(edge.line.published_high >= 0);
    CHECK(edge.line.published_low_figure.empty() == (edge.line.published_low == 0));
    CHECK(edge.line.published_high_figure.empty() == (edge.line.published_high == 0));
  }
  CHECK(compared > 15);
  CHECK(moved > 8);
}
