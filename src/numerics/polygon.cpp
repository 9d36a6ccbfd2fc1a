#include "numerics/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <queue>

namespace aeruca::detail {

double Plane::scale(Point2 p) const {
  return std::abs(c) + std::abs(gx * p.x) + std::abs(gy * p.y);
}

Plane operator+(const Plane& a, const Plane& b) {
  return {a.c + b.c, a.gx + b.gx, a.gy + b.gy};
}

Plane operator*(double factor, const Plane& a) {
  return {factor * a.c, factor * a.gx, factor * a.gy};
}

namespace {

double cleaned(double a, double b, double scale) {
  const double value = a - b;
  return std::abs(value) <= kSideTolerance * scale ? 0 : value;
}

double size(const Plane& plane) {
  return std::max({std::abs(plane.c), std::abs(plane.gx), std::abs(plane.gy)});
}

Point2 crossing(Point2 a, double at_a, Point2 b, double at_b) {
  const double t = at_a / (at_a - at_b);
  return {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

}  // namespace

Plane difference(const Plane& a, const Plane& b) {
  const double scale = std::max(size(a), size(b));
  return {cleaned(a.c, b.c, scale), cleaned(a.gx, b.gx, scale), cleaned(a.gy, b.gy, scale)};
}

int side(const Plane& half_plane, Point2 p) {
  const double value = half_plane(p);
  if (std::abs(value) <= kSideTolerance * half_plane.scale(p)) return 0;
  return value > 0 ? 1 : -1;
}

Polygon2 clip(const Polygon2& polygon, const Plane& half_plane) {
  Polygon2 kept;
  bool some_inside = false;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point2 here = polygon[i];
    const Point2 next = polygon[(i + 1) % polygon.size()];
    const int side_here = side(half_plane, here);
    const int side_next = side(half_plane, next);
    some_inside = some_inside || side_here > 0;
    if (side_here >= 0) kept.push_back(here);
    if (side_here * side_next < 0)
      kept.push_back(crossing(here, half_plane(here), next, half_plane(next)));
  }
  if (!some_inside || kept.size() < 3) return {};
  return kept;
}

double signed_area(const Polygon2& polygon) {
  double twice = 0;
  // About the first vertex, so that far-off polygons keep their digits.
  for (std::size_t i = 2; i < polygon.size(); ++i) {
    const Point2 o = polygon[0];
    const Point2 a = polygon[i - 1];
    const Point2 b = polygon[i];
    twice += (a.x - o.x) * (b.y - o.y) - (b.x - o.x) * (a.y - o.y);
  }
  return twice / 2;
}

std::vector<Polygon2> upper_envelope(const std::vector<Plane>& planes, const Polygon2& frame) {
  std::vector<Polygon2> parts(planes.size());
  for (std::size_t i = 0; i < planes.size(); ++i) {
    Polygon2 part = frame;
    for (std::size_t j = 0; j < planes.size() && !part.empty(); ++j) {
      if (j == i) continue;
      const Plane lead = difference(planes[i], planes[j]);
      if (size(lead) == 0) {
        if (j < i) part.clear();
      } else {
        part = clip(part, lead);
      }
    }
    parts[i] = std::move(part);
  }
  return parts;
}

namespace {

double distance_to_segment(Point2 p, Point2 a, Point2 b) {
  const double dx = b.x - a.x;
  const double dy = b.y - a.y;
  const double length2 = dx * dx + dy * dy;
  double t = length2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2 : 0;
  t = std::clamp(t, 0.0, 1.0);
  return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

bool crosses_ray(Point2 p, Point2 a, Point2 b) {
  return (a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x;
}

}  // namespace

double distance_inside(const std::vector<Polygon2>& outlines, Point2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  bool inside = false;
  for (const Polygon2& outline : outlines) {
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Point2 a = outline[i];
      const Point2 b = outline[(i + 1) % outline.size()];
      nearest = std::min(nearest, distance_to_segment(p, a, b));
      if (crosses_ray(p, a, b)) inside = !inside;
    }
  }
  return inside ? nearest : -nearest;
}

namespace {

// Centre of gravity by area; holes count against it.
Point2 centroid(const std::vector<Polygon2>& outlines) {
  double area = 0;
  double x = 0;
  double y = 0;
  for (const Polygon2& outline : outlines) {
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Point2 a = outline[i];
      const Point2 b = outline[(i + 1) % outline.size()];
      const double cross = a.x * b.y - b.x * a.y;
      area += cross / 2;
      x += (a.x + b.x) * cross / 6;
      y += (a.y + b.y) * cross / 6;
    }
  }
  return area == 0 ? Point2{0.5, 0.5} : Point2{x / area, y / area};
}

// Room, less a little for being off the centre: of many places with equal room the middle one.
constexpr double kPull = 0.15;

struct Square {
  Point2 centre;
  double half = 0;
  double room = 0;
  double worth = 0;
  // No point of the square can be worth more than this.
  [[nodiscard]] double bound() const { return worth + half * 1.4142135623730951 * (1 + kPull); }
  bool operator<(const Square& other) const { return bound() < other.bound(); }
};

}  // namespace

InnerPoint inner_point(const std::vector<Polygon2>& outlines) {
  if (outlines.empty()) return {};
  const Point2 middle = centroid(outlines);
  const auto square = [&](Point2 centre, double half) {
    const double room = distance_inside(outlines, centre);
    return Square{centre, half, room,
                  room - kPull * std::hypot(centre.x - middle.x, centre.y - middle.y)};
  };
  std::priority_queue<Square> waiting;
  waiting.push(square({0.5, 0.5}, 0.5));
  Square best = square(middle, 0);
  if (best.room <= 0) best.worth = -std::numeric_limits<double>::infinity();
  constexpr int kSquares = 5000;
  for (int count = 0; count < kSquares && !waiting.empty(); ++count) {
    const Square top = waiting.top();
    waiting.pop();
    if (best.room > 0 && top.bound() <= best.worth + 0.02 * best.room) break;
    const double half = top.half / 2;
    for (const double sx : {-half, half}) {
      for (const double sy : {-half, half}) {
        const Square part = square({top.centre.x + sx, top.centre.y + sy}, half);
        if (part.room > 0 && part.worth > best.worth) best = part;
        if (part.room > -half * 1.4142135623730951 && part.bound() > best.worth) waiting.push(part);
      }
    }
  }
  return {best.centre, best.room};
}

}  // namespace aeruca::detail
