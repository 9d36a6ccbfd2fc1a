#include <algorithm>
#include <limits>
#include <vector>

#include "store/known_time.hpp"

namespace aeruca::detail {

Spell longest_spell(const KnownTime& known, std::span<const double> margins, double bias) {
  Spell longest;
  const std::size_t n = margins.size();
  for (std::size_t first = 0, next = 0; first < n; first = next) {
    next = first + 1;
    if (!(margins[first] < bias)) continue;
    double seconds = known.seconds[first];
    while (next < n && known.joined[next] != 0 && margins[next] < bias)
      seconds += known.seconds[next++];
    if (seconds / 3600 <= longest.hours) continue;
    longest.hours = seconds / 3600;
    longest.start_s = known.times_s[first];
    longest.end_s = known.times_s[next - 1];
    longest.touches_gap = known.joined[first] == 0 || (next < n && known.joined[next] == 0);
  }
  return longest;
}

namespace {

// Positions with falling margins: the front is the largest of the window. A vector with a moving
// front, cut now and then, is several times faster here than a deque.
class FallingQueue {
 public:
  explicit FallingQueue(std::span<const double> margins) : margins_(margins) {}

  void clear() {
    queue_.clear();
    front_ = 0;
  }
  void push(std::size_t position) {
    while (queue_.size() > front_ && margins_[queue_.back()] <= margins_[position])
      queue_.pop_back();
    queue_.push_back(position);
  }
  void drop_before(std::size_t position) {
    while (queue_[front_] < position) ++front_;
    if (front_ < kCut) return;
    queue_.erase(queue_.begin(), queue_.begin() + static_cast<std::ptrdiff_t>(front_));
    front_ = 0;
  }
  [[nodiscard]] double largest() const { return margins_[queue_[front_]]; }

 private:
  static constexpr std::size_t kCut = 16384;
  std::span<const double> margins_;
  std::vector<std::size_t> queue_;
  std::size_t front_ = 0;
};

}  // namespace

// A window slides over each joined stretch: for every last reading, the shortest window that lasts
// long enough.
double bias_for_spell(const KnownTime& known, std::span<const double> margins, double hours) {
  double best = std::numeric_limits<double>::infinity();
  const double wanted = hours * 3600;
  FallingQueue window(margins);
  std::size_t first = 0;
  double seconds = 0;
  for (std::size_t last = 0; last < margins.size(); ++last) {
    if (known.joined[last] == 0) {
      window.clear();
      first = last;
      seconds = 0;
    }
    window.push(last);
    seconds += known.seconds[last];
    while (seconds - known.seconds[first] >= wanted) seconds -= known.seconds[first++];
    window.drop_before(first);
    if (seconds >= wanted) best = std::min(best, window.largest());
  }
  return best;
}

// Wet above `high`, dry below `low` or `hysteresis` under `high`, whichever is lower; in between
// the state stays. It is carried over gaps: an excursion is counted only when a dry reading came
// before it.
Cycles count_cycles(const KnownTime& known, double hysteresis) {
  enum class State { unknown, dry, wet } state = State::unknown;
  Cycles cycles;
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (known.margin_high[i] < 0) {
      if (state == State::dry) ++cycles.excursions;
      state = State::wet;
    } else if (known.margin_low[i] > 0 && known.margin_high[i] > hysteresis) {
      if (state == State::wet && cycles.excursions > cycles.completed) ++cycles.completed;
      state = State::dry;
    }
  }
  return cycles;
}

}  // namespace aeruca::detail
