#include "numerics/trace_cells.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "numerics/trace_chords.hpp"

namespace aeruca::detail {

namespace {

struct Crossing {
  double t = 0;  // along its line
  int before = 0, after = 0;
  std::size_t node = 0;
};

struct Line {
  Point2 a, b;
  int at_a = 0;
  std::vector<Crossing> crossings;  // by t

  [[nodiscard]] Point2 at(double t) const { return {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)}; }
  [[nodiscard]] double length() const { return std::hypot(b.x - a.x, b.y - a.y); }
  [[nodiscard]] int label_at(double t) const {
    int label = at_a;
    for (const Crossing& crossing : crossings) {
      if (crossing.t < t) label = crossing.after;
    }
    return label;
  }
};

// A change met going round a cell: the label behind it.
struct Change {
  std::size_t node = 0;
  int after = 0;
};

class Tracer {
 public:
  Tracer(const LabelsAt& labels_at, double width, double height, int cells)
      : labels_at_(labels_at), width_(width), height_(height), cells_(cells) {}

  CellCurves run() {
    std::vector<Cell> open = first_cells();
    while (!open.empty()) {
      std::vector<Growing> growing;
      std::vector<Cell> to_cut;
      for (Cell& cell : open) sort_out(cell, growing, to_cut);
      grow(growing, to_cut);
      open = cut(to_cut);
    }
    add_rim();
    return std::move(found_);
  }

 private:
  std::vector<int> ask(const std::vector<Point2>& points) {
    std::vector<int> labels(points.size());
    if (!points.empty()) labels_at_(points, labels);
    found_.asked += points.size();
    return labels;
  }

  [[nodiscard]] Point2 corner(int i, int j) const {
    return {i == cells_ ? width_ : width_ * i / cells_,
            j == cells_ ? height_ : height_ * j / cells_};
  }
  [[nodiscard]] std::size_t side() const { return static_cast<std::size_t>(cells_); }
  [[nodiscard]] std::size_t across(int i, int j) const {  // from corner i, j to the right
    return static_cast<std::size_t>(j) * side() + static_cast<std::size_t>(i);
  }
  [[nodiscard]] std::size_t upwards(int i, int j) const {
    return (side() + 1 + static_cast<std::size_t>(i)) * side() + static_cast<std::size_t>(j);
  }

  std::vector<Cell> first_cells() {
    std::vector<Point2> points;
    for (int j = 0; j <= cells_; ++j) {
      for (int i = 0; i <= cells_; ++i) points.push_back(corner(i, j));
    }
    const std::size_t corners = points.size();
    std::vector<Cell> cells;
    for (int j = 0; j < cells_; ++j) {
      for (int i = 0; i < cells_; ++i) {
        cells.push_back({{Side{across(i, j), 0, 1}, Side{upwards(i + 1, j), 0, 1},
                          Side{across(i, j + 1), 1, 0}, Side{upwards(i, j), 1, 0}},
                         corner(i, j),
                         corner(i + 1, j + 1),
                         {}});
        points.push_back(cells.back().centre());
      }
    }
    const std::vector<int> labels = ask(points);
    const auto label = [&](int i, int j) {
      return labels[static_cast<std::size_t>(j) * (side() + 1) + static_cast<std::size_t>(i)];
    };
    std::vector<int> ends;
    lines_.resize(2 * side() * (side() + 1));
    ends.resize(lines_.size());
    for (int k = 0; k <= cells_; ++k) {
      for (int i = 0; i < cells_; ++i) {
        lines_[across(i, k)] = {corner(i, k), corner(i + 1, k), label(i, k), {}};
        ends[across(i, k)] = label(i + 1, k);
        lines_[upwards(k, i)] = {corner(k, i), corner(k, i + 1), label(k, i), {}};
        ends[upwards(k, i)] = label(k, i + 1);
      }
    }
    find_crossings(0, ends);
    for (std::size_t c = 0; c < cells.size(); ++c) cells[c].middle = labels[corners + c];
    return cells;
  }

  struct Interval {
    std::size_t line = 0;
    double low = 0, high = 1;
    int at_low = 0, at_high = 0;
  };

  // On the lines from `first` on; `ends` are the labels at their far ends.
  void find_crossings(std::size_t first, const std::vector<int>& ends) {
    std::vector<Interval> open;
    for (std::size_t k = 0; k < ends.size(); ++k) {
      if (lines_[first + k].at_a != ends[k])
        open.push_back({first + k, 0, 1, lines_[first + k].at_a, ends[k]});
    }
    while (!open.empty()) {
      std::vector<Interval> next;
      std::vector<Point2> middles;
      for (const Interval& each : open) {
        const double length = lines_[each.line].length() * (each.high - each.low);
        if (length <= kFound) {
          add_crossing(each);
          continue;
        }
        middles.push_back(lines_[each.line].at(0.5 * (each.low + each.high)));
        next.push_back(each);
      }
      const std::vector<int> labels = ask(middles);
      open.clear();
      for (std::size_t k = 0; k < next.size(); ++k) {
        const Interval& each = next[k];
        const double middle = 0.5 * (each.low + each.high);
        if (labels[k] != each.at_low)
          open.push_back({each.line, each.low, middle, each.at_low, labels[k]});
        if (labels[k] != each.at_high)
          open.push_back({each.line, middle, each.high, labels[k], each.at_high});
      }
    }
    for (std::size_t k = first; k < lines_.size(); ++k) {
      std::sort(lines_[k].crossings.begin(), lines_[k].crossings.end(),
                [](const Crossing& a, const Crossing& b) { return a.t < b.t; });
      leave_out_narrow(lines_[k]);
    }
  }

  // Two changes so near that what lies between them is narrower than the tolerance are one.
  static void leave_out_narrow(Line& line) {
    std::vector<Crossing> kept;
    for (const Crossing& crossing : line.crossings) {
      const bool narrow =
          !kept.empty() && (crossing.t - kept.back().t) * line.length() < kNarrowest;
      if (!narrow) {
        kept.push_back(crossing);
        continue;
      }
      kept.back().after = crossing.after;
      if (kept.back().before == kept.back().after) kept.pop_back();
    }
    line.crossings = std::move(kept);
  }

  void add_crossing(const Interval& each) {
    const double t = 0.5 * (each.low + each.high);
    Line& line = lines_[each.line];
    line.crossings.push_back({t, each.at_low, each.at_high, found_.nodes.size()});
    found_.nodes.push_back(line.at(t));
  }

  void add_changes_on(const Side& side, std::vector<Change>& changes) const {
    const std::vector<Crossing>& all = lines_[side.line].crossings;
    const bool forward = side.from < side.to;
    const auto take = [&](const Crossing& crossing) {
      if (crossing.t < std::min(side.from, side.to)) return;
      if (crossing.t >= std::max(side.from, side.to)) return;
      changes.push_back({crossing.node, forward ? crossing.after : crossing.before});
    };
    if (forward) {
      std::for_each(all.begin(), all.end(), take);
    } else {
      std::for_each(all.rbegin(), all.rend(), take);
    }
  }

  [[nodiscard]] std::vector<Change> changes_round(const Cell& cell) const {
    std::vector<Change> changes;
    for (const Side& side : cell.sides) add_changes_on(side, changes);
    return changes;
  }

  // What becomes of a cell: nothing to trace, a curve, a junction, or it is cut.
  void sort_out(const Cell& cell, std::vector<Growing>& growing, std::vector<Cell>& to_cut) {
    const std::vector<Change> changes = changes_round(cell);
    if (changes.empty()) {
      const Side& side = cell.sides[0];
      const bool island = cell.middle && *cell.middle != lines_[side.line].label_at(side.middle());
      if (island && cell.size() > kSmallestCell) to_cut.push_back(cell);
      return;
    }
    if (changes.size() == 2) {
      const Point2 from = found_.nodes[changes[0].node];
      const Point2 to = found_.nodes[changes[1].node];
      Growing curve{cell, changes[0].node, changes[1].node, changes[1].after, changes[0].after, {},
                    false};
      const bool known = cell.middle && *cell.middle != curve.left && *cell.middle != curve.right;
      if (known && cell.size() > kSmallestCell) {
        to_cut.push_back(cell);
        return;
      }
      curve.chords.push_back({from, to, Chord::State::beside, 0, 0});
      growing.push_back(std::move(curve));
    } else if (cell.size() > kSmallestCell) {
      to_cut.push_back(cell);
    } else {
      meet(cell, changes);
    }
  }

  void meet(const Cell& cell, const std::vector<Change>& changes) {
    const std::size_t junction = found_.nodes.size();
    found_.nodes.push_back(cell.centre());
    for (std::size_t k = 0; k < changes.size(); ++k) {
      const Change& before = changes[k == 0 ? changes.size() - 1 : k - 1];
      found_.curves.push_back({changes[k].node, junction, before.after, changes[k].after, {}});
    }
  }

  void grow(std::vector<Growing>& growing, std::vector<Cell>& to_cut) {
    grow_chords(growing, [this](const std::vector<Point2>& points) { return ask(points); });
    for (Growing& each : growing) {
      if (each.third && each.cell.size() > kSmallestCell) {
        to_cut.push_back(each.cell);
        continue;
      }
      CellCurve curve{each.from, each.to, each.left, each.right, {}};
      if (!each.third) {
        for (std::size_t k = 1; k < each.chords.size(); ++k)
          curve.inner.push_back(each.chords[k].from);
      }
      found_.curves.push_back(std::move(curve));
    }
  }

  // Each in four: what is known of its rim stays, the four lines inside are new.
  std::vector<Cell> cut(const std::vector<Cell>& to_cut) {
    std::vector<Point2> centres;
    centres.reserve(to_cut.size());
    for (const Cell& cell : to_cut) centres.push_back(cell.centre());
    const std::vector<int> labels = ask(centres);
    const std::size_t first = lines_.size();
    std::vector<int> ends;
    std::vector<Cell> cells;
    for (std::size_t c = 0; c < to_cut.size(); ++c) {
      const Cell& cell = to_cut[c];
      const Point2 m = centres[c];
      const std::size_t inner = lines_.size();
      for (const Side& side : cell.sides) {  // from the centre to the middle of each side
        const Line& line = lines_[side.line];
        ends.push_back(line.label_at(side.middle()));
        const Point2 to = line.at(side.middle());
        lines_.push_back({m, to, labels[c], {}});
      }
      const auto half = [&](std::size_t k, bool second) {
        const Side& side = cell.sides[k];
        return second ? Side{side.line, side.middle(), side.to}
                      : Side{side.line, side.from, side.middle()};
      };
      const auto out = [&](std::size_t k) { return Side{inner + k, 0, 1}; };
      const auto in = [&](std::size_t k) { return Side{inner + k, 1, 0}; };
      const Point2 low = cell.low;
      const Point2 high = cell.high;
      cells.push_back({{half(0, false), in(0), out(3), half(3, true)}, low, m, {}});
      cells.push_back(
          {{half(0, true), half(1, false), in(1), out(0)}, {m.x, low.y}, {high.x, m.y}, {}});
      cells.push_back({{out(1), half(1, true), half(2, false), in(2)}, m, high, {}});
      cells.push_back(
          {{in(3), out(2), half(2, true), half(3, false)}, {low.x, m.y}, {m.x, high.y}, {}});
    }
    find_crossings(first, ends);
    return cells;
  }

  // The frame, from corner to corner, in pieces of one label.
  void add_rim() {
    std::vector<Side> sides;
    sides.reserve(4 * side());
    for (int i = 0; i < cells_; ++i) sides.push_back({across(i, 0), 0, 1});
    for (int j = 0; j < cells_; ++j) sides.push_back({upwards(cells_, j), 0, 1});
    for (int i = cells_; i-- > 0;) sides.push_back({across(i, cells_), 1, 0});
    for (int j = cells_; j-- > 0;) sides.push_back({upwards(0, j), 1, 0});
    const std::size_t start = found_.nodes.size();
    found_.nodes.push_back(corner(0, 0));
    std::size_t from = start;
    int label = lines_[across(0, 0)].at_a;
    const auto go_to = [&](std::size_t node) {
      found_.rim.push_back({from, node, label});
      from = node;
    };
    for (std::size_t k = 0; k < sides.size(); ++k) {
      std::vector<Change> changes;
      add_changes_on(sides[k], changes);
      for (const Change& change : changes) {
        go_to(change.node);
        label = change.after;
      }
      const bool turns = (k + 1) % static_cast<std::size_t>(cells_) == 0;
      if (!turns || k + 1 == sides.size()) continue;
      const Side& side = sides[k];
      found_.nodes.push_back(lines_[side.line].at(side.to));
      go_to(found_.nodes.size() - 1);
    }
    go_to(start);
  }

  const LabelsAt& labels_at_;
  double width_, height_;
  int cells_;
  std::vector<Line> lines_;
  CellCurves found_;
};

}  // namespace

CellCurves trace_cells(const LabelsAt& labels_at, double width, double height, int cells) {
  return Tracer(labels_at, width, height, cells).run();
}

}  // namespace aeruca::detail
