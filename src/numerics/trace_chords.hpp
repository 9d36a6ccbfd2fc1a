#pragma once

// The curve inside a cell whose rim the labels change on twice: chords, halved until each has the
// right labels on both sides.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "numerics/polygon.hpp"

namespace aeruca::detail {

inline constexpr double kFound = 0.25;      // of a change on a line, in units of the tolerance
inline constexpr double kNarrowest = 1.5;   // what is narrower between two regions is left out
inline constexpr double kSmallestCell = 1;  // what is left in it is one junction

/// A part of a line, walked from `from` to `to`.
struct Side {
  std::size_t line = 0;
  double from = 0, to = 1;

  [[nodiscard]] double middle() const { return 0.5 * (from + to); }
};

/// Its sides counter-clockwise, each from where the one before ends.
struct Cell {
  std::array<Side, 4> sides;
  Point2 low, high;
  std::optional<int> middle;  ///< its label, where it was asked for

  [[nodiscard]] Point2 centre() const { return {0.5 * (low.x + high.x), 0.5 * (low.y + high.y)}; }
  [[nodiscard]] double size() const { return std::max(high.x - low.x, high.y - low.y); }
  [[nodiscard]] bool holds(Point2 p) const {
    return p.x > low.x && p.x < high.x && p.y > low.y && p.y < high.y;
  }
};

/// A chord that is being put to the test.
struct Chord {
  enum class State { beside, wider, outwards, between, straight };
  Point2 from, to;
  State state = State::beside;
  double near = 0, far = 0;  // along the normal to the left: the boundary lies between

  [[nodiscard]] double length() const { return std::hypot(to.x - from.x, to.y - from.y); }
  [[nodiscard]] Point2 off(double distance) const {
    const double scale = distance / length();
    return {0.5 * (from.x + to.x) - scale * (to.y - from.y),
            0.5 * (from.y + to.y) + scale * (to.x - from.x)};
  }
};

/// The chords of a cell with two changes, in order.
struct Growing {
  Cell cell;
  std::size_t from = 0, to = 0;
  int left = 0, right = 0;
  std::vector<Chord> chords;
  bool third = false;  ///< another label was found, or the boundary left the cell
};

/// Labels of many points at once.
using Ask = std::function<std::vector<int>(const std::vector<Point2>&)>;

/// Halves the chords of all curves together, one question each a round, until every one is done or
/// has met a third label.
void grow_chords(std::vector<Growing>& growing, const Ask& ask);

}  // namespace aeruca::detail
