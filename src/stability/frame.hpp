#pragma once

// The frame of a diagram as the unit square, in which all geometry is done.

#include <vector>

#include "aeruca/stability.hpp"
#include "numerics/polygon.hpp"

namespace aeruca::detail {

inline const Polygon2 kUnitSquare{{0, 0}, {1, 0}, {1, 1}, {0, 1}};

class Frame {
 public:
  explicit Frame(const FieldOptions& options) : x_(options.x), y_(options.y) {}

  [[nodiscard]] Point to_axes(Point2 p) const { return {along(x_, p.x), along(y_, p.y)}; }
  [[nodiscard]] Polygon to_axes(const Polygon2& polygon) const {
    Polygon out;
    for (const Point2 p : polygon) out.push_back(to_axes(p));
    return out;
  }
  [[nodiscard]] Plane to_unit(const Plane& plane) const {
    return {plane.c + plane.gx * x_.low + plane.gy * y_.low, plane.gx * (x_.high - x_.low),
            plane.gy * (y_.high - y_.low)};
  }
  [[nodiscard]] std::vector<Plane> to_unit(const std::vector<Plane>& planes) const {
    std::vector<Plane> out;
    out.reserve(planes.size());
    for (const Plane& plane : planes) out.push_back(to_unit(plane));
    return out;
  }

 private:
  // Exactly low and high at the ends.
  static double along(const Axis& axis, double t) {
    return t >= 1 ? axis.high : axis.low + t * (axis.high - axis.low);
  }
  Axis x_, y_;
};

}  // namespace aeruca::detail
