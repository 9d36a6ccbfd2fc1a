#pragma once

// How far each reading is from a limit (eq 2).

#include <array>
#include <span>
#include <vector>

#include "store/blocks.hpp"

namespace aeruca::detail {

/// The limit, as a humidity of the air, less the humidity read (percent RH): below 0 above it.
class Margins {
 public:
  Margins() = default;
  /// One limit for all readings. `rh_percent` and its extents must outlive this.
  Margins(std::span<const double> rh_percent, std::span<const Extent> extents, double limit);
  /// A limit for each reading.
  Margins(std::span<const double> rh_percent, std::vector<double> limits);

  [[nodiscard]] std::size_t size() const { return rh_.size(); }
  [[nodiscard]] double operator[](std::size_t i) const {
    return (limits_.empty() ? limit_ : limits_[i]) - rh_[i];
  }
  [[nodiscard]] Extent extent(std::size_t block) const {
    if (!limits_.empty()) return own_extents_[block];
    return {limit_ - rh_extents_[block].highest, limit_ - rh_extents_[block].lowest};
  }
  /// The one limit of all readings; null where each has its own. With one limit, readings stand in
  /// the same order by margin as by falling humidity.
  [[nodiscard]] const double* one_limit() const { return limits_.empty() ? &limit_ : nullptr; }

  /// The lowest limit of any reading, as a humidity of the air.
  [[nodiscard]] double lowest_limit() const;

  using Buffer = std::array<double, kBlock>;
  /// The margins of a block, worked out in the buffer.
  std::span<const double> block(std::size_t block, Buffer& buffer) const;
  [[nodiscard]] std::vector<double> all() const;

 private:
  std::span<const double> rh_;
  std::span<const Extent> rh_extents_;
  double limit_ = 0;
  std::vector<double> limits_;
  std::vector<Extent> own_extents_;
};

}  // namespace aeruca::detail
