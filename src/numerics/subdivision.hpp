#pragma once

// Convex pieces that tile a region, joined into one net of shared vertices and segments.

#include <cstddef>
#include <vector>

#include "numerics/polygon.hpp"

namespace aeruca::detail {

/// One convex tile; tiles of one label belong together. `tag` rides along.
struct Piece {
  Polygon2 polygon;
  std::size_t label = 0;
  std::size_t tag = 0;
};

/// A stretch between two vertices with the piece on either side; `right` is kOutside on the frame.
struct Segment {
  std::size_t from = 0, to = 0;  // vertices; the left piece lies to the left of from -> to
  std::size_t left = 0, right = 0;
};
inline constexpr std::size_t kOutside = static_cast<std::size_t>(-1);

/// Vertices closer than this (unit square) are one.
inline constexpr double kSnap = 1e-9;

struct Subdivision {
  std::vector<Piece> pieces;  // on the shared vertices; slivers gone
  std::vector<Point2> vertices;
  std::vector<Segment> segments;  // both directions of an inner segment are listed
  std::vector<std::vector<std::size_t>> labels_at;  // by vertex: labels that meet there, ascending

  /// Boundary of all pieces of a label: counter-clockwise outlines, clockwise holes.
  [[nodiscard]] std::vector<Polygon2> outlines(std::size_t label) const;
};

/// Pieces must tile their union, in the unit square.
[[nodiscard]] Subdivision subdivide(const std::vector<Piece>& pieces);

}  // namespace aeruca::detail
