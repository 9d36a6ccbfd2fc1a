#include "numerics/trace_chords.hpp"

namespace aeruca::detail {

namespace {

constexpr double kBeside = 0.5;  // where the sides of a chord are asked
constexpr double kShortest = 2;  // a chord that is taken as it is

void questions(Chord& chord, std::vector<Point2>& points) {
  if (chord.state == Chord::State::beside && chord.length() < kShortest)
    chord.state = Chord::State::straight;
  switch (chord.state) {
    case Chord::State::beside:
      points.push_back(chord.off(kBeside));
      points.push_back(chord.off(-kBeside));
      break;
    case Chord::State::wider:
      points.push_back(chord.off(kNarrowest));
      points.push_back(chord.off(-kNarrowest));
      break;
    case Chord::State::outwards:
      points.push_back(chord.off(chord.far));
      break;
    case Chord::State::between:
      points.push_back(chord.off(0.5 * (chord.near + chord.far)));
      break;
    case Chord::State::straight:
      break;
  }
}

bool knows(const Growing& curve, int label) {
  return label == curve.left || label == curve.right;
}

void beside(Growing& curve, Chord& chord, int on_left, int on_right) {
  if (on_left == curve.left && on_right == curve.right) {
    chord.state = Chord::State::straight;
    return;
  }
  if (chord.state == Chord::State::beside && (!knows(curve, on_left) || !knows(curve, on_right))) {
    chord.state = Chord::State::wider;  // something narrow may lie between the two
    return;
  }
  curve.third = curve.third || !knows(curve, on_left) || !knows(curve, on_right) ||
                (on_left == curve.right && on_right == curve.left);
  chord.state = Chord::State::outwards;
  chord.near = on_left == curve.right ? kBeside : -kBeside;
  chord.far = 2 * chord.near;
}

// The label beyond the boundary on the way out.
int beyond(const Growing& curve, const Chord& chord) {
  return chord.far > 0 ? curve.left : curve.right;
}

void outwards(Growing& curve, Chord& chord, int label) {
  if (!knows(curve, label)) {
    curve.third = true;
  } else if (label == beyond(curve, chord)) {
    chord.state = Chord::State::between;
    if (!curve.cell.holds(chord.off(chord.far))) curve.third = true;
  } else {
    chord.near = chord.far;
    chord.far *= 2;
    if (!curve.cell.holds(chord.off(chord.near))) curve.third = true;
  }
}

// True when it is found.
bool between(Growing& curve, Chord& chord, int label) {
  if (!knows(curve, label)) {
    if (std::abs(chord.far - chord.near) <= 2 * kNarrowest) return true;
    curve.third = true;
  }
  const double middle = 0.5 * (chord.near + chord.far);
  (label == beyond(curve, chord) ? chord.far : chord.near) = middle;
  return std::abs(chord.far - chord.near) <= kFound;
}

void answer(Growing& curve, const std::vector<int>& labels, std::size_t& next) {
  std::vector<Chord> chords;
  for (Chord& chord : curve.chords) {
    switch (chord.state) {
      case Chord::State::beside:
      case Chord::State::wider: {
        const int on_left = labels[next++];
        const int on_right = labels[next++];
        beside(curve, chord, on_left, on_right);
        break;
      }
      case Chord::State::outwards:
        outwards(curve, chord, labels[next++]);
        break;
      case Chord::State::between:
        if (between(curve, chord, labels[next++])) {
          const Point2 at = chord.off(0.5 * (chord.near + chord.far));
          chords.push_back({chord.from, at, Chord::State::beside, 0, 0});
          chord = {at, chord.to, Chord::State::beside, 0, 0};
        }
        break;
      case Chord::State::straight:
        break;
    }
    chords.push_back(chord);
  }
  curve.chords = std::move(chords);
}

}  // namespace

void grow_chords(std::vector<Growing>& growing, const Ask& ask) {
  std::vector<std::size_t> open(growing.size());
  for (std::size_t k = 0; k < open.size(); ++k) open[k] = k;
  while (!open.empty()) {
    std::vector<Point2> points;
    for (const std::size_t k : open) {
      for (Chord& chord : growing[k].chords) questions(chord, points);
    }
    const std::vector<int> labels = ask(points);
    std::size_t next = 0;
    std::vector<std::size_t> still;
    for (const std::size_t k : open) {
      answer(growing[k], labels, next);
      const auto& chords = growing[k].chords;
      const bool done = std::all_of(chords.begin(), chords.end(), [](const Chord& chord) {
        return chord.state == Chord::State::straight;
      });
      if (!growing[k].third && !done) still.push_back(k);
    }
    open = std::move(still);
  }
}

}  // namespace aeruca::detail
