#pragma once

// Convex polygons cut by straight lines, exact to rounding.
//
// Laws of side(h, p), kept by construction and tested:
//   side(-h, p) == -side(h, p);  side(t h, p) == side(h, p) for t > 0;
//   side(h, p) == 0 for the zero half-plane;
//   clip(P, h) and clip(P, -h) together cover P and share only points with side 0.
// A point within kSideTolerance times the size of the terms counts as on the line.

#include <vector>

namespace aeruca::detail {

struct Point2 {
  double x = 0;
  double y = 0;
};
using Polygon2 = std::vector<Point2>;  // closed without repeating the first vertex

/// A plane over (x, y): c + x*gx + y*gy. As a half-plane: where that is positive.
struct Plane {
  double c = 0;
  double gx = 0;
  double gy = 0;

  [[nodiscard]] double operator()(Point2 p) const { return c + gx * p.x + gy * p.y; }
  /// Size of the terms, the scale of rounding.
  [[nodiscard]] double scale(Point2 p) const;
};
[[nodiscard]] Plane operator+(const Plane& a, const Plane& b);
[[nodiscard]] Plane operator*(double factor, const Plane& a);
/// a - b, with coefficients that are only the rounding of their terms set to zero.
[[nodiscard]] Plane difference(const Plane& a, const Plane& b);

inline constexpr double kSideTolerance = 1e-13;

/// +1 where the plane is positive, -1 where negative, 0 on the line within rounding.
[[nodiscard]] int side(const Plane& half_plane, Point2 p);

/// The part of a convex polygon where the half-plane is positive; empty when only its rim is left.
[[nodiscard]] Polygon2 clip(const Polygon2& polygon, const Plane& half_plane);

/// Positive when counter-clockwise.
[[nodiscard]] double signed_area(const Polygon2& polygon);

/// For each plane the part of the convex frame where it lies highest (empty when nowhere). Planes
/// that are equal throughout: the first takes all.
[[nodiscard]] std::vector<Polygon2> upper_envelope(const std::vector<Plane>& planes,
                                                   const Polygon2& frame);

/// How far p lies from the nearest edge of the outlines, negative outside
/// (odd-even rule, so holes count as outside).
[[nodiscard]] double distance_inside(const std::vector<Polygon2>& outlines, Point2 p);

struct InnerPoint {
  Point2 at;
  double room = 0;  // distance to the nearest edge
};
/// A point far from the edges; of several as good the one nearest the centre of gravity. For
/// labels. Outlines within the unit square.
[[nodiscard]] InnerPoint inner_point(const std::vector<Polygon2>& outlines);

}  // namespace aeruca::detail
