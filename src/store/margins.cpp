#include "store/margins.hpp"

#include <algorithm>
#include <utility>

namespace aeruca::detail {

Margins::Margins(std::span<const double> rh_percent, std::span<const Extent> extents, double limit)
    : rh_(rh_percent), rh_extents_(extents), limit_(limit) {}

Margins::Margins(std::span<const double> rh_percent, std::vector<double> limits)
    : rh_(rh_percent), limits_(std::move(limits)) {
  own_extents_.reserve(blocks_in(size()));
  Buffer buffer;
  for (std::size_t b = 0; b < blocks_in(size()); ++b)
    own_extents_.push_back(extents_of(block(b, buffer)).front());
}

double Margins::lowest_limit() const {
  return limits_.empty() ? limit_ : *std::min_element(limits_.begin(), limits_.end());
}

std::span<const double> Margins::block(std::size_t block, Buffer& buffer) const {
  const std::size_t first = block * kBlock;
  const std::size_t count = block_end(block, size()) - first;
  if (limits_.empty()) {
    for (std::size_t k = 0; k < count; ++k) buffer[k] = limit_ - rh_[first + k];
  } else {
    for (std::size_t k = 0; k < count; ++k) buffer[k] = limits_[first + k] - rh_[first + k];
  }
  return {buffer.data(), count};
}

std::vector<double> Margins::all() const {
  std::vector<double> margins(size());
  for (std::size_t i = 0; i < size(); ++i) margins[i] = (*this)[i];
  return margins;
}

}  // namespace aeruca::detail
