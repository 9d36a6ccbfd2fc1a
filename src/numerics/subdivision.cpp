#include "numerics/subdivision.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace aeruca::detail {

namespace {

using Ring = std::vector<std::size_t>;  // vertex numbers

std::size_t vertex_number(std::vector<Point2>& vertices, Point2 p) {
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    if (std::abs(vertices[i].x - p.x) <= kSnap && std::abs(vertices[i].y - p.y) <= kSnap) return i;
  }
  vertices.push_back(p);
  return vertices.size() - 1;
}

Ring ring_of(const Polygon2& polygon, std::vector<Point2>& vertices) {
  Ring ring;
  for (const Point2 p : polygon) {
    const std::size_t number = vertex_number(vertices, p);
    if (ring.empty() || ring.back() != number) ring.push_back(number);
  }
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
  return ring;
}

// Vertices strictly inside the segment a-b, in order from a.
Ring between(const std::vector<Point2>& vertices, std::size_t a, std::size_t b) {
  const Point2 start = vertices[a];
  const double dx = vertices[b].x - start.x;
  const double dy = vertices[b].y - start.y;
  const double length = std::hypot(dx, dy);
  std::vector<std::pair<double, std::size_t>> found;
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    if (i == a || i == b) continue;
    const double px = vertices[i].x - start.x;
    const double py = vertices[i].y - start.y;
    const double along = (px * dx + py * dy) / length;
    const double across = (px * dy - py * dx) / length;
    if (along > 0 && along < length && std::abs(across) <= kSnap) found.emplace_back(along, i);
  }
  std::sort(found.begin(), found.end());
  Ring inner;
  for (const auto& [along, i] : found) inner.push_back(i);
  return inner;
}

Ring with_inner_vertices(const Ring& ring, const std::vector<Point2>& vertices) {
  Ring full;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const std::size_t a = ring[i];
    const std::size_t b = ring[(i + 1) % ring.size()];
    full.push_back(a);
    const Ring inner = between(vertices, a, b);
    full.insert(full.end(), inner.begin(), inner.end());
  }
  return full;
}

Polygon2 polygon_of(const Ring& ring, const std::vector<Point2>& vertices) {
  Polygon2 polygon;
  for (const std::size_t i : ring) polygon.push_back(vertices[i]);
  return polygon;
}

void add_label(std::vector<std::size_t>& labels, std::size_t label) {
  const auto place = std::lower_bound(labels.begin(), labels.end(), label);
  if (place == labels.end() || *place != label) labels.insert(place, label);
}

}  // namespace

Subdivision subdivide(const std::vector<Piece>& pieces) {
  Subdivision net;
  std::vector<Ring> rings;
  for (const Piece& piece : pieces) {
    Ring ring = ring_of(piece.polygon, net.vertices);
    if (ring.size() < 3 || signed_area(polygon_of(ring, net.vertices)) <= kSnap * kSnap) continue;
    rings.push_back(std::move(ring));
    net.pieces.push_back({{}, piece.label, piece.tag});
  }
  net.labels_at.resize(net.vertices.size());
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> left_of;
  for (std::size_t k = 0; k < rings.size(); ++k) {
    rings[k] = with_inner_vertices(rings[k], net.vertices);
    net.pieces[k].polygon = polygon_of(rings[k], net.vertices);
    for (std::size_t i = 0; i < rings[k].size(); ++i) {
      left_of[{rings[k][i], rings[k][(i + 1) % rings[k].size()]}] = k;
      add_label(net.labels_at[rings[k][i]], net.pieces[k].label);
    }
  }
  for (const auto& [ends, left] : left_of) {
    const auto twin = left_of.find({ends.second, ends.first});
    net.segments.push_back(
        {ends.first, ends.second, left, twin == left_of.end() ? kOutside : twin->second});
  }
  return net;
}

namespace {

// Angle by which the way turns at b, from -pi to pi; left is positive.
double turn(Point2 a, Point2 b, Point2 c) {
  const Point2 u{b.x - a.x, b.y - a.y};
  const Point2 v{c.x - b.x, c.y - b.y};
  return std::atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
}

Polygon2 without_straight_vertices(const Polygon2& polygon) {
  Polygon2 kept;
  const std::size_t n = polygon.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (std::abs(turn(polygon[(i + n - 1) % n], polygon[i], polygon[(i + 1) % n])) > 1e-9)
      kept.push_back(polygon[i]);
  }
  return kept;
}

}  // namespace

std::vector<Polygon2> Subdivision::outlines(std::size_t label) const {
  std::multimap<std::size_t, std::size_t> leaving;  // vertex -> next vertex along the rim
  for (const Segment& s : segments) {
    if (pieces[s.left].label != label) continue;
    if (s.right == kOutside || pieces[s.right].label != label) leaving.emplace(s.from, s.to);
  }
  std::vector<Polygon2> found;
  while (!leaving.empty()) {
    const std::size_t start = leaving.begin()->first;
    std::size_t before = start;
    std::size_t here = leaving.begin()->second;
    leaving.erase(leaving.begin());
    Polygon2 rim{vertices[start]};
    while (here != start) {
      rim.push_back(vertices[here]);
      // Where two parts touch in a point, the sharpest left turn keeps them apart.
      auto [next, end] = leaving.equal_range(here);
      if (next == end) break;
      for (auto other = std::next(next); other != end; ++other) {
        if (turn(vertices[before], vertices[here], vertices[other->second]) >
            turn(vertices[before], vertices[here], vertices[next->second]))
          next = other;
      }
      before = here;
      here = next->second;
      leaving.erase(next);
    }
    found.push_back(without_straight_vertices(rim));
  }
  return found;
}

}  // namespace aeruca::detail
