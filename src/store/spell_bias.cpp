#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "store/known_time.hpp"

namespace aeruca::detail {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Positions with falling margins: the front is the largest of the window.
class FallingQueue {
 public:
  explicit FallingQueue(const Margins& margins) : margins_(margins) {}

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
  [[nodiscard]] std::size_t largest() const { return queue_[front_]; }

 private:
  // A vector with a moving front, cut now and then, is several times faster here than a deque.
  static constexpr std::size_t kCut = 16384;
  const Margins& margins_;
  std::vector<std::size_t> queue_;
  std::size_t front_ = 0;
};

// Eq 3. The best window so far rules out nearly everything: one that is better lies in a run of
// joined readings that all have a smaller margin than its largest, and that lasts long enough. Only
// such runs are gone through window by window.
class SpellSearch {
 public:
  SpellSearch(const KnownTime& known, const Margins& margins, double hours)
      : known_(known), margins_(margins), wanted_s_(hours * 3600), window_(margins) {}

  std::optional<std::size_t> run() {
    bound_side_by_side();
    look_in_runs();
    return found_;
  }

 private:
  // Windows one behind the other, none reaching into the next: their best is a bound for the best of
  // all, and near it. Whole blocks count as one reading while the window is not full.
  void bound_side_by_side() {
    double seconds = 0;
    double largest = 0;
    const auto take = [&](double margin, double lasts) {
      largest = seconds == 0 ? margin : std::max(largest, margin);
      seconds += lasts;
      if (seconds < wanted_s_) return;
      // The window itself is still to be found, so the bound lies just above.
      best_ = std::min(best_, std::nextafter(largest, kInfinity));
      seconds = 0;
    };
    for (std::size_t b = 0; b < known_.blocks.size(); ++b) {
      const Extent extent = margins_.extent(b);
      const KnownTime::Block& block = known_.blocks[b];
      if (extent.lowest >= best_) {
        seconds = 0;
      } else if (block.joined && seconds + block.seconds < wanted_s_) {
        take(extent.highest, block.seconds);
      } else {
        for (std::size_t i = b * kBlock; i < block_end(b, known_.size()); ++i) {
          if (known_.joined[i] == 0) seconds = 0;
          take(margins_[i], known_.seconds[i]);
        }
      }
    }
  }

  void look_in_runs() {
    std::size_t first = 0;  // of the run
    double seconds = 0;
    const auto close = [&](std::size_t end) {
      if (seconds >= wanted_s_) look_in_run(first, end);
      seconds = 0;
    };
    for (std::size_t b = 0; b < known_.blocks.size(); ++b) {
      const Extent extent = margins_.extent(b);
      const KnownTime::Block& block = known_.blocks[b];
      const std::size_t start = b * kBlock;
      if (extent.lowest >= best_) {
        close(start);
        continue;
      }
      if (extent.highest < best_ && block.joined) {
        if (seconds == 0) first = start;
        seconds += block.seconds;
        continue;
      }
      for (std::size_t i = start; i < block_end(b, known_.size()); ++i) {
        const bool below = margins_[i] < best_;
        if (!below || known_.joined[i] == 0) close(i);
        if (!below) continue;
        if (seconds == 0) first = i;
        seconds += known_.seconds[i];
      }
    }
    close(known_.size());
  }

  // A window slides over the run: for every last reading, the shortest that lasts long enough.
  void look_in_run(std::size_t first, std::size_t end) {
    window_.clear();
    double seconds = 0;
    for (std::size_t last = first; last < end; ++last) {
      window_.push(last);
      seconds += known_.seconds[last];
      while (seconds - known_.seconds[first] >= wanted_s_) seconds -= known_.seconds[first++];
      window_.drop_before(first);
      if (seconds >= wanted_s_) keep(window_.largest());
    }
  }

  void keep(std::size_t reading) {
    if (!(margins_[reading] < best_)) return;
    best_ = margins_[reading];
    found_ = reading;
  }

  const KnownTime& known_;
  const Margins& margins_;
  double wanted_s_;
  FallingQueue window_;
  double best_ = kInfinity;
  std::optional<std::size_t> found_;
};

}  // namespace

std::optional<std::size_t> reading_for_spell(const KnownTime& known, const Margins& margins,
                                             double hours) {
  return SpellSearch(known, margins, hours).run();
}

}  // namespace aeruca::detail
