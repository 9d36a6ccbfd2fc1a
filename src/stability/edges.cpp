// Edges between fields, and the lines of water.

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>
#include <utility>

#include "stability/diagram.hpp"
#include "stability/spread.hpp"

namespace aeruca::detail {

namespace {

using Ends = std::pair<std::size_t, std::size_t>;

// Segments between the same two pieces lie on one line: their two ends, in the direction of the
// segments.
Ends ends_of(const std::vector<Ends>& stretches) {
  Ends ends = stretches.front();
  for (std::size_t round = 0; round < stretches.size(); ++round) {
    for (const Ends& each : stretches) {
      if (each.second == ends.first) ends.first = each.first;
      if (each.first == ends.second) ends.second = each.second;
    }
  }
  return ends;
}

// With a gap q(left) - q(right) = c + gx x + gy y that another figure moves by d, the line c + gx x +
// gy y = 0 moves by -d / gy, or by -d / gx where it is vertical.
void add_published(const Alternatives& alternatives, const System& system, const Regime& regime,
                   std::size_t left, std::size_t right, LineEquation& line) {
  GapShift shift = shift_of_gap(alternatives, system, regime, left, right);
  const Plane gap = regime.planes[left] + -1.0 * regime.planes[right];
  const double per = -1 / (line.vertical ? gap.gx : gap.gy);
  if (per < 0) {
    std::swap(shift.lowest, shift.highest);
    std::swap(shift.lowest_figure, shift.highest_figure);
  }
  line.published_low = per * shift.lowest + 0.0;
  line.published_high = per * shift.highest + 0.0;
  line.published_low_figure = std::move(shift.lowest_figure);
  line.published_high_figure = std::move(shift.highest_figure);
}

Edge make_edge(const System& system, const Regime& regime, const Alternatives& alternatives,
               std::size_t left, std::size_t right) {
  Reaction reaction = reaction_between(system, regime, left, right);
  const WrittenReaction written = write(system, regime, reaction);
  Edge edge;
  edge.left = system.names[left];
  edge.right = system.names[right];
  edge.reaction = written.text;
  edge.log10_k = written.log10_k;
  edge.log10_k_uncertainty = reaction.uncertainty;
  edge.line = line_between(system, regime, reaction);
  add_published(alternatives, system, regime, left, right, edge.line);
  edge.figures = std::move(reaction.figures);
  edge.shared_figures = std::move(reaction.shared_figures);
  return edge;
}

bool near(double a, double b) {
  return std::abs(a - b) <= 1e-9 * (1 + std::abs(a));
}

bool continues(const Edge& a, const Edge& b) {
  return a.left == b.left && a.right == b.right && a.reaction == b.reaction && a.to.x == b.from.x &&
         a.to.y == b.from.y && near(a.line.slope, b.line.slope) &&
         near(a.line.intercept, b.line.intercept) && near(a.line.vertical_x, b.line.vertical_x);
}

// Joins one pair of stretches that continue each other across a cell's rim; false when there is
// none.
bool join_one(std::vector<Edge>& edges) {
  for (std::size_t i = 0; i < edges.size(); ++i) {
    for (std::size_t j = 0; j < edges.size(); ++j) {
      if (i == j || !continues(edges[i], edges[j])) continue;
      edges[i].to = edges[j].to;
      edges.erase(edges.begin() + static_cast<std::ptrdiff_t>(j));
      return true;
    }
  }
  return false;
}

}  // namespace

std::vector<Edge> edges_of(const System& system, const Frame& frame, const Subdivision& net,
                           const Alternatives& alternatives) {
  std::map<Ends, std::vector<Ends>> shared;  // (left piece, right piece) -> stretches
  for (const Segment& s : net.segments) {
    if (s.right == kOutside || net.pieces[s.left].label >= net.pieces[s.right].label) continue;
    shared[{s.left, s.right}].emplace_back(s.from, s.to);
  }
  std::vector<Edge> edges;
  for (const auto& [pieces, stretches] : shared) {
    const Piece& left = net.pieces[pieces.first];
    Edge edge = make_edge(system, system.regimes[left.tag], alternatives, left.label,
                          net.pieces[pieces.second].label);
    const Ends ends = ends_of(stretches);
    edge.from = frame.to_axes(net.vertices[ends.first]);
    edge.to = frame.to_axes(net.vertices[ends.second]);
    edges.push_back(std::move(edge));
  }
  while (join_one(edges)) {
  }
  return edges;
}

namespace {

// log10 fugacity of a gas over the axes; only what is held in every regime may enter.
std::optional<Plane> fugacity(const System& system, const Species& gas) {
  Plane sum{system.dataset->log10_k(gas, system.options.temperature_c), 0, 0};
  for (std::size_t j = 0; j < gas.components.size(); ++j) {
    if (gas.components[j] == 0) continue;
    const auto held = std::find_if(system.fixed.begin(), system.fixed.end(), [&](const Held& each) {
      return system.dataset->species[each.species].name == system.dataset->components[j];
    });
    if (held == system.fixed.end()) return std::nullopt;
    sum = sum + gas.components[j] * held->log10_activity;
  }
  return sum;
}

std::vector<Point> part_in_frame(const Plane& zero, const Frame& frame) {
  const Plane unit = frame.to_unit(zero);
  std::vector<Point> on_line;
  for (const Point2 p : clip(kUnitSquare, unit)) {
    if (std::abs(unit(p)) <= kSnap * unit.scale(p)) on_line.push_back(frame.to_axes(p));
  }
  if (on_line.size() != 2) on_line.clear();
  return on_line;
}

}  // namespace

std::vector<WaterLine> water_lines_of(const System& system, const Frame& frame) {
  std::vector<WaterLine> lines;
  for (const char* name : {"H2(g)", "O2(g)"}) {
    if (!system.dataset->contains(name)) continue;
    const Species& gas = system.dataset->at(name);
    if (!Dataset::log10_k_known_at(gas, system.options.temperature_c)) continue;
    const std::optional<Plane> plane = fugacity(system, gas);
    if (!plane || (plane->gx == 0 && plane->gy == 0)) continue;
    const Direction direction = plane->gy == 0 ? Direction::vertical : Direction::sloping;
    WaterLine water{name, line_of(*plane, direction), part_in_frame(*plane, frame)};
    water.line.uncertainty =
        system.dataset->log10_k_uncertainty(gas, system.options.temperature_c) /
        std::abs(plane->gy == 0 ? plane->gx : plane->gy);
    lines.push_back(std::move(water));
  }
  return lines;
}

}  // namespace aeruca::detail
