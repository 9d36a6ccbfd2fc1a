#include "store/blocks.hpp"

#include <array>
#include <cmath>
#include <limits>

#include "numerics/lanes.hpp"

namespace aeruca::detail {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr Extent kNone{kInfinity, -kInfinity};
constexpr Extent kAnything{-kInfinity, kInfinity};

void widen(Extent& extent, double value) {
  extent.lowest = std::min(extent.lowest, value);
  extent.highest = std::max(extent.highest, value);
}

Extent extent_of_few(std::span<const double> values) {
  Extent extent = kNone;
  for (const double value : values) {
    if (!std::isfinite(value)) return kAnything;
    widen(extent, value);
  }
  return extent;
}

// Two values side by side, and two such pairs, so that no comparison waits for the one before.
Extent extent_of_block(const double* values) {
  using Pair = Lanes<2>;
  std::array<Pair, 2> lowest{lane_load<2>(values), lane_load<2>(values + 2)};
  std::array<Pair, 2> highest = lowest;
  LaneWhole<2> finite = lane_finite<2>(lowest[0]) & lane_finite<2>(lowest[1]);
  for (std::size_t i = 4; i < kBlock; i += 4) {
    for (std::size_t k = 0; k < 2; ++k) {
      const Pair value = lane_load<2>(values + i + 2 * k);
      lowest[k] = lane_min<2>(value, lowest[k]);
      highest[k] = lane_max<2>(value, highest[k]);
      finite &= lane_finite<2>(value);
    }
  }
  if (lane_any<2>(~finite)) return kAnything;
  const Pair low = lane_min<2>(lowest[0], lowest[1]);
  const Pair high = lane_max<2>(highest[0], highest[1]);
  return {std::min(low[0], low[1]), std::max(high[0], high[1])};
}

}  // namespace

std::vector<Extent> extents_of(std::span<const double> values) {
  std::vector<Extent> extents;
  extents.reserve(blocks_in(values.size()));
  std::size_t first = 0;
  for (; first + kBlock <= values.size(); first += kBlock)
    extents.push_back(extent_of_block(values.data() + first));
  if (first < values.size()) extents.push_back(extent_of_few(values.subspan(first)));
  return extents;
}

Extent extent_of(std::span<const Extent> extents) {
  Extent all = kNone;
  for (const Extent& extent : extents) {
    all.lowest = std::min(all.lowest, extent.lowest);
    all.highest = std::max(all.highest, extent.highest);
  }
  return all;
}

}  // namespace aeruca::detail
