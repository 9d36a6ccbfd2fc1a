#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "store/known_time.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kBins = 4096;

struct Extent {
  double lowest = std::numeric_limits<double>::infinity();
  double highest = -std::numeric_limits<double>::infinity();
  bool holds_nan = false;
};

Extent extent_of(std::span<const double> values) {
  Extent extent;
  for (const double value : values) {
    extent.lowest = std::min(extent.lowest, value);
    extent.highest = std::max(extent.highest, value);
    extent.holds_nan |= std::isnan(value);
  }
  return extent;
}

// Where a quantile lies: in which bin, and how much weight stands below that bin.
struct Place {
  std::size_t bin = 0;
  double below = 0;
};

using Members = std::vector<std::pair<double, double>>;

double quantile_in(Members& members, double below, double wanted) {
  std::sort(members.begin(), members.end());
  for (const auto& [value, weight] : members) {
    below += weight;
    if (below >= wanted) return value;
  }
  return members.empty() ? std::nan("") : members.back().first;
}

// Bins find where each quantile lies; only the values of those bins are sorted. Exact, in two
// passes.
class Bins {
 public:
  Bins(std::span<const double> values, std::span<const double> weights, const Extent& extent)
      : values_(values),
        weights_(weights),
        lowest_(extent.lowest),
        scale_(static_cast<double>(kBins) / (extent.highest - extent.lowest)),
        mass_(kBins, 0.0) {
    for (std::size_t i = 0; i < values.size(); ++i) mass_[bin_of(values[i])] += weights[i];
    for (const double mass : mass_) total_ += mass;
  }

  [[nodiscard]] std::vector<double> quantiles(std::span<const double> shares) const {
    constexpr std::uint8_t kNone = 255;
    std::vector<std::uint8_t> slot_of(kBins, kNone);
    std::vector<Place> places;
    std::vector<Members> members;
    for (const double share : shares) {
      places.push_back(place_of(wanted(share)));
      std::uint8_t& slot = slot_of[places.back().bin];
      if (slot != kNone) continue;
      slot = static_cast<std::uint8_t>(members.size());
      members.emplace_back();
    }
    for (std::size_t i = 0; i < values_.size(); ++i) {
      const std::uint8_t slot = slot_of[bin_of(values_[i])];
      if (slot != kNone) members[slot].emplace_back(values_[i], weights_[i]);
    }
    std::vector<double> found;
    for (std::size_t k = 0; k < shares.size(); ++k) {
      found.push_back(
          quantile_in(members[slot_of[places[k].bin]], places[k].below, wanted(shares[k])));
    }
    return found;
  }

 private:
  // Rounding must not push a quantile to the next value.
  [[nodiscard]] double wanted(double share) const { return share * total_ * (1 - 1e-12); }

  [[nodiscard]] Place place_of(double wanted) const {
    Place place;
    while (place.bin + 1 < kBins && place.below + mass_[place.bin] < wanted)
      place.below += mass_[place.bin++];
    return place;
  }

  [[nodiscard]] std::size_t bin_of(double value) const {
    return std::min(kBins - 1, static_cast<std::size_t>((value - lowest_) * scale_));
  }

  std::span<const double> values_;
  std::span<const double> weights_;
  double lowest_;
  double scale_;
  std::vector<double> mass_;
  double total_ = 0;
};

}  // namespace

std::vector<double> weighted_quantiles(std::span<const double> values,
                                       std::span<const double> weights,
                                       std::span<const double> shares) {
  const Extent extent = extent_of(values);
  if (values.empty() || extent.holds_nan) return std::vector<double>(shares.size(), std::nan(""));
  if (!(extent.highest > extent.lowest)) return std::vector<double>(shares.size(), extent.lowest);
  return Bins(values, weights, extent).quantiles(shares);
}

}  // namespace aeruca::detail
