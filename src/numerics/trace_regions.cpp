#include "numerics/trace_regions.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "numerics/trace_cells.hpp"

namespace aeruca::detail {

namespace {

constexpr double kStraight = 0.2;  // how far a point that is left out may lie from its chord

double distance_to_chord(Point2 p, Point2 a, Point2 b) {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (length == 0) return std::hypot(p.x - a.x, p.y - a.y);
  return std::abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length;
}

// Points first to last, without those that lie on a chord of others (Douglas and Peucker 1973).
void keep_bends(const std::vector<Point2>& line, std::size_t first, std::size_t last,
                std::vector<Point2>& kept) {
  std::size_t farthest = first;
  double most = kStraight;
  for (std::size_t k = first + 1; k < last; ++k) {
    const double distance = distance_to_chord(line[k], line[first], line[last]);
    if (distance <= most) continue;
    most = distance;
    farthest = k;
  }
  if (farthest == first) {
    kept.push_back(line[last]);
    return;
  }
  keep_bends(line, first, farthest, kept);
  keep_bends(line, farthest, last, kept);
}

// A piece of boundary or of the frame, walked so that `left` lies to the left.
struct Way {
  std::size_t from = 0, to = 0;
  int left = 0;
  std::vector<Point2> line;
};

class Assembly {
 public:
  explicit Assembly(CellCurves cells) : cells_(std::move(cells)), at_(cells_.nodes.size()) {
    for (std::size_t k = 0; k < cells_.curves.size(); ++k) {
      at_[cells_.curves[k].from].push_back(k);
      at_[cells_.curves[k].to].push_back(k);
    }
    for (const RimPiece& piece : cells_.rim) on_rim_.insert(piece.from);
  }

  TracedPlane run() {
    plane_.asked = cells_.asked;
    join_curves();
    add_rim();
    walk();
    tell_junctions();
    return std::move(plane_);
  }

 private:
  [[nodiscard]] bool goes_on_through(std::size_t node) const {
    return at_[node].size() == 2 && !on_rim_.contains(node);
  }

  // From curve to curve through nodes where only two meet.
  void join_curves() {
    used_.assign(cells_.curves.size(), false);
    for (std::size_t k = 0; k < used_.size(); ++k) {
      if (!used_[k] && !goes_on_through(cells_.curves[k].from)) join_from(k, true);
      if (!used_[k] && !goes_on_through(cells_.curves[k].to)) join_from(k, false);
    }
    for (std::size_t k = 0; k < used_.size(); ++k) {
      if (!used_[k]) join_from(k, true);  // rings
    }
  }

  void join_from(std::size_t k, bool forward) {
    const CellCurve& first = cells_.curves[k];
    const std::size_t start = forward ? first.from : first.to;
    const int left = forward ? first.left : first.right;
    const int right = forward ? first.right : first.left;
    std::vector<Point2> line{cells_.nodes[start]};
    std::size_t node = start;
    for (std::size_t curve = k; !used_[curve];) {
      used_[curve] = true;
      node = append(curve, node, line);
      if (!goes_on_through(node) || node == start) break;
      curve = at_[node][0] == curve ? at_[node][1] : at_[node][0];
    }
    if (start == node && line.size() < 4) return;  // nothing inside
    std::vector<Point2> kept{line.front()};
    if (start == node) {
      const std::size_t middle = line.size() / 2;  // a ring has no chord
      keep_bends(line, 0, middle, kept);
      keep_bends(line, middle, line.size() - 1, kept);
    } else {
      keep_bends(line, 0, line.size() - 1, kept);
    }
    plane_.boundaries.push_back({left, right, kept});
    ways_.push_back({start, node, left, kept});
    ways_.push_back({node, start, right, {kept.rbegin(), kept.rend()}});
  }

  // Its points behind the node that it is entered by; where it ends.
  std::size_t append(std::size_t k, std::size_t node, std::vector<Point2>& line) const {
    const CellCurve& curve = cells_.curves[k];
    const bool forward = curve.from == node;
    if (forward) {
      line.insert(line.end(), curve.inner.begin(), curve.inner.end());
    } else {
      line.insert(line.end(), curve.inner.rbegin(), curve.inner.rend());
    }
    const std::size_t end = forward ? curve.to : curve.from;
    line.push_back(cells_.nodes[end]);
    return end;
  }

  static constexpr int kOutside = -1;

  void add_rim() {
    for (const RimPiece& piece : cells_.rim) {
      const Point2 from = cells_.nodes[piece.from];
      const Point2 to = cells_.nodes[piece.to];
      ways_.push_back({piece.from, piece.to, piece.label, {from, to}});
      ways_.push_back({piece.to, piece.from, kOutside, {to, from}});
    }
  }

  // Of the ways that leave the node where `way` ends, the next clockwise from the way back.
  [[nodiscard]] std::size_t next_of(std::size_t way) const {
    const std::vector<std::size_t>& out = leaving_.at(ways_[way].to);
    const std::size_t back = way ^ 1U;
    const auto place = std::find(out.begin(), out.end(), back);
    return place == out.begin() ? out.back() : *(place - 1);
  }

  static double heading(const Way& way) {
    const Point2 a = way.line[0];
    const Point2 b = way.line[1];
    return std::atan2(b.y - a.y, b.x - a.x);
  }

  void walk() {
    for (std::size_t k = 0; k < ways_.size(); ++k) leaving_[ways_[k].from].push_back(k);
    for (auto& [node, out] : leaving_) {
      std::sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) {
        return heading(ways_[a]) < heading(ways_[b]);
      });
    }
    std::map<int, std::vector<Polygon2>> outlines;
    std::vector<bool> walked(ways_.size(), false);
    for (std::size_t k = 0; k < ways_.size(); ++k) {
      if (walked[k] || ways_[k].left == kOutside) continue;
      Polygon2 outline;
      for (std::size_t way = k; !walked[way]; way = next_of(way)) {
        walked[way] = true;
        outline.insert(outline.end(), ways_[way].line.begin(), ways_[way].line.end() - 1);
      }
      outlines[ways_[k].left].push_back(std::move(outline));
    }
    for (auto& [label, all] : outlines) plane_.regions.push_back({label, std::move(all)});
  }

  void tell_junctions() {
    for (std::size_t node = 0; node < at_.size(); ++node) {
      if (at_[node].size() < 3) continue;
      std::set<int> labels;
      for (const std::size_t k : at_[node])
        labels.insert({cells_.curves[k].left, cells_.curves[k].right});
      plane_.junctions.push_back({cells_.nodes[node], {labels.begin(), labels.end()}});
    }
  }

  CellCurves cells_;
  std::vector<std::vector<std::size_t>> at_;  // curves by node
  std::set<std::size_t> on_rim_;
  std::vector<bool> used_;
  std::vector<Way> ways_;  // there and back, one behind the other
  std::map<std::size_t, std::vector<std::size_t>> leaving_;
  TracedPlane plane_;
};

}  // namespace

TracedPlane trace_regions(const LabelsAt& labels_at, double width, double height, int cells) {
  return Assembly(trace_cells(labels_at, width, height, cells)).run();
}

}  // namespace aeruca::detail
