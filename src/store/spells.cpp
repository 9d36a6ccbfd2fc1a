#include "store/known_time.hpp"

namespace aeruca::detail {
namespace {

// Adds up readings above, in order, and keeps the longest run of joined ones.
class Runs {
 public:
  explicit Runs(const KnownTime& known) : known_(known) {}

  void take_dry(std::size_t block) { close(block * kBlock); }

  void take_wet(std::size_t block) {
    const double seconds = known_.blocks[block].seconds;
    if (!open_) open(block * kBlock);
    run_s_ += seconds;
    found_.seconds += seconds;
  }

  void take_each(std::size_t block, std::span<const double> margins, double bias) {
    const std::size_t first = block * kBlock;
    for (std::size_t k = 0; k < margins.size(); ++k) {
      const std::size_t i = first + k;
      const bool above = margins[k] < bias;
      if (open_ && (!above || known_.joined[i] == 0)) close(i);
      if (!above) continue;
      if (!open_) open(i);
      run_s_ += known_.seconds[i];
      found_.seconds += known_.seconds[i];
    }
  }

  ReadingsAbove found() {
    close(known_.size());
    return found_;
  }

 private:
  void open(std::size_t first) {
    open_ = true;
    first_ = first;
    run_s_ = 0;
  }

  void close(std::size_t next) {
    if (!open_) return;
    open_ = false;
    if (run_s_ <= longest_s_) return;
    longest_s_ = run_s_;
    found_.longest.hours = run_s_ / 3600;
    found_.longest.start_s = known_.times_s[first_];
    found_.longest.end_s = known_.times_s[next - 1];
    found_.longest.touches_gap =
        known_.joined[first_] == 0 || (next < known_.size() && known_.joined[next] == 0);
  }

  const KnownTime& known_;
  ReadingsAbove found_;
  bool open_ = false;
  std::size_t first_ = 0;
  double run_s_ = 0;
  double longest_s_ = 0;
};

}  // namespace

ReadingsAbove readings_above(const KnownTime& known, const Margins& margins, double bias) {
  Runs runs(known);
  Margins::Buffer buffer;
  for (std::size_t b = 0; b < known.blocks.size(); ++b) {
    const Extent extent = margins.extent(b);
    if (extent.lowest >= bias) {
      runs.take_dry(b);
    } else if (extent.highest < bias && known.blocks[b].joined) {
      runs.take_wet(b);
    } else {
      runs.take_each(b, margins.block(b, buffer), bias);
    }
  }
  return runs.found();
}

double seconds_above(const KnownTime& known, const Margins& margins, std::size_t first,
                     std::size_t end) {
  double seconds = 0;
  for (std::size_t i = first; i < end;) {
    const std::size_t b = i / kBlock;
    const std::size_t next = std::min(end, block_end(b, known.size()));
    const Extent extent = margins.extent(b);
    const bool whole = i == b * kBlock && next == block_end(b, known.size());
    if (whole && extent.highest < 0) {
      seconds += known.blocks[b].seconds;
    } else if (!(extent.lowest >= 0)) {
      for (std::size_t k = i; k < next; ++k) seconds += margins[k] < 0 ? known.seconds[k] : 0.0;
    }
    i = next;
  }
  return seconds;
}

// Wet above `high`, dry below `low` or `hysteresis` under `high`, whichever is lower; in between
// the state stays. It is carried over gaps: an excursion is counted only when a dry reading came
// before it.
Cycles count_cycles(const KnownTime& known, double hysteresis) {
  enum class State { unknown, dry, wet } state = State::unknown;
  Cycles cycles;
  const auto take = [&](double low, double high) {
    if (high < 0) {
      if (state == State::dry) ++cycles.excursions;
      state = State::wet;
    } else if (low > 0 && high > hysteresis) {
      if (state == State::wet && cycles.excursions > cycles.completed) ++cycles.completed;
      state = State::dry;
    }
  };
  for (std::size_t b = 0; b < known.blocks.size(); ++b) {
    const Extent low = known.low.extent(b);
    const Extent high = known.high.extent(b);
    const bool all_wet = high.highest < 0;
    const bool all_dry = low.lowest > 0 && high.lowest > hysteresis;
    const bool none_wet = high.lowest >= 0;
    const bool none_dry = low.highest <= 0 || high.highest <= hysteresis;
    if (none_wet && none_dry) continue;
    if (all_wet || all_dry) {
      take(low.lowest, high.lowest);
      continue;
    }
    for (std::size_t i = b * kBlock; i < block_end(b, known.size()); ++i)
      take(known.low[i], known.high[i]);
  }
  return cycles;
}

}  // namespace aeruca::detail
