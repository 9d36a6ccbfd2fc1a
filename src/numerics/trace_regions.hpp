#pragma once

// A plane that is cut into regions by a label at every point, traced: not painted on a raster.
//
// The frame is [0, width] x [0, height], in units of the tolerance: every boundary is found to 1 in
// both directions. A grid of `cells` a side is labelled at its corners and middles; where two
// neighbours differ the change is found on the line between them by halving; inside a cell with two
// changes on its rim a curve runs from one to the other, halved until the labels half a unit to
// either side of every chord are those of its sides; a cell with more changes, or with a third label
// inside, is cut in four, down to a unit, where what is left is one junction. All questions of a
// round are asked at once, so that the labels can be worked out together.
//
// What is left out: a region, or the neck of one, that touches no corner or middle of a cell; and what
// is narrower than 1.5 units between two others.

#include <functional>
#include <span>
#include <vector>

#include "numerics/polygon.hpp"

namespace aeruca::detail {

/// Writes a label for every point; 0 or more.
using LabelsAt = std::function<void(std::span<const Point2>, std::span<int>)>;

struct TracedBoundary {
  int left = 0, right = 0;   ///< labels, as seen going from front to back
  std::vector<Point2> line;  ///< closed when front and back are equal
};

struct TracedRegion {
  int label = 0;
  std::vector<Polygon2> outlines;  ///< counter-clockwise; holes clockwise
};

struct Junction {
  Point2 at;
  std::vector<int> labels;  ///< that meet there, each once, by size
};

struct TracedPlane {
  std::vector<TracedRegion> regions;  ///< by label
  std::vector<TracedBoundary> boundaries;
  std::vector<Junction> junctions;
  std::size_t asked = 0;  ///< points
};

[[nodiscard]] TracedPlane trace_regions(const LabelsAt& labels_at, double width, double height,
                                        int cells);

}  // namespace aeruca::detail
