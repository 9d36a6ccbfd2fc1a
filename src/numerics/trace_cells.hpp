#pragma once

// First half of trace_regions: the curves of every cell, from where they enter it to where they
// leave it or meet.

#include <cstddef>
#include <vector>

#include "numerics/trace_regions.hpp"

namespace aeruca::detail {

/// A piece of a boundary between two nodes; `inner` are the points between them.
struct CellCurve {
  std::size_t from = 0, to = 0;
  int left = 0, right = 0;
  std::vector<Point2> inner;
};

/// Along the frame, counter-clockwise, with the label inside.
struct RimPiece {
  std::size_t from = 0, to = 0;
  int label = 0;
};

struct CellCurves {
  std::vector<Point2> nodes;
  std::vector<CellCurve> curves;
  std::vector<RimPiece> rim;
  std::size_t asked = 0;
};

[[nodiscard]] CellCurves trace_cells(const LabelsAt& labels_at, double width, double height,
                                     int cells);

}  // namespace aeruca::detail
