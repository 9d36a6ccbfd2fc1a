#pragma once

// Readings in blocks whose lowest and highest value is known. Most blocks lie wholly on one side of
// a limit: what is asked of them is answered without a look at each reading.

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

namespace aeruca::detail {

inline constexpr std::size_t kBlock = 64;

inline std::size_t blocks_in(std::size_t readings) {
  return (readings + kBlock - 1) / kBlock;
}
/// First reading behind a block.
inline std::size_t block_end(std::size_t block, std::size_t readings) {
  return std::min(readings, (block + 1) * kBlock);
}

/// Both ends included; from -infinity to infinity where a value is NaN or infinite, so that nobody
/// passes it over.
struct Extent {
  double lowest;
  double highest;
};

/// Of each block, the last one shorter.
std::vector<Extent> extents_of(std::span<const double> values);
/// Of all blocks together.
Extent extent_of(std::span<const Extent> extents);

}  // namespace aeruca::detail
