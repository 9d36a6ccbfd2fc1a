#include <algorithm>
#include <cmath>
#include <cstdint>

#include "store/known_time.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kBins = 4096;

// Where a quantile lies: in which bin, how much weight stands before that bin (below it, or above
// for a share from above), and how much must stand up to the quantile.
struct Place {
  std::size_t bin = 0;
  double before = 0;
  double wanted = 0;
};

struct Bin {
  double mass = 0;
  double value = 0;    // the first that fell into it
  bool mixed = false;  // others fell into it too
};

template <class Iterator>
Place place_of(Iterator bin, double wanted) {
  Place place{0, 0, wanted};
  while (place.bin + 1 < kBins && place.before + bin->mass < wanted) {
    place.before += bin->mass;
    ++bin;
    ++place.bin;
  }
  return place;
}

using Members = std::vector<std::pair<double, double>>;  // values and weights of one bin

double quantile_in(Members members, const Place& place, bool from_above) {
  std::sort(members.begin(), members.end());
  if (from_above) std::reverse(members.begin(), members.end());
  double value = std::nan("");
  double reached = place.before;
  for (const auto& [here, weight] : members) {
    value = here;
    reached += weight;
    if (reached >= place.wanted) break;
  }
  return value;
}

// Bins find where each quantile lies. Logged values are round, so that a bin seldom holds two: only
// the values of those that do are gathered and sorted. Exact.
class Bins {
 public:
  Bins(std::span<const double> values, std::span<const double> weights, const Extent& extent)
      : values_(values),
        weights_(weights),
        lowest_(extent.lowest),
        scale_(static_cast<double>(kBins) / (extent.highest - extent.lowest)),
        bins_(kBins) {
    for (std::size_t i = 0; i < values.size(); ++i) {
      Bin& bin = bins_[bin_of(values[i])];
      if (bin.value != values[i]) {
        bin.mixed = bin.mass > 0;
        if (!bin.mixed) bin.value = values[i];
      }
      bin.mass += weights[i];
    }
    for (const Bin& bin : bins_) total_ += bin.mass;
  }

  [[nodiscard]] std::vector<double> quantiles(std::span<const double> shares,
                                              std::span<const double> shares_above) const {
    std::vector<Place> places;
    for (const double share : shares) places.push_back(place_of(bins_.begin(), wanted(share)));
    for (const double share : shares_above) {
      places.push_back(place_of(bins_.rbegin(), wanted(share)));
      places.back().bin = kBins - 1 - places.back().bin;
    }
    const std::vector<Members> members = members_of(places);
    std::vector<double> found;
    for (std::size_t k = 0; k < places.size(); ++k) {
      found.push_back(members[k].empty() ? bins_[places[k].bin].value
                                         : quantile_in(members[k], places[k], k >= shares.size()));
    }
    return found;
  }

 private:
  // Rounding must not push a quantile to the next value.
  [[nodiscard]] double wanted(double share) const { return share * total_ * (1 - 1e-12); }

  [[nodiscard]] std::size_t bin_of(double value) const {
    return std::min(kBins - 1, static_cast<std::size_t>((value - lowest_) * scale_));
  }

  // Of the bin of each place, where it is mixed.
  [[nodiscard]] std::vector<Members> members_of(std::span<const Place> places) const {
    std::vector<Members> members(places.size());
    std::vector<std::uint8_t> looked_for(kBins, 0);
    for (const Place& place : places) looked_for[place.bin] = bins_[place.bin].mixed ? 1 : 0;
    if (std::find(looked_for.begin(), looked_for.end(), 1) == looked_for.end()) return members;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      const std::size_t bin = bin_of(values_[i]);
      if (looked_for[bin] == 0) continue;
      for (std::size_t k = 0; k < places.size(); ++k) {
        if (places[k].bin == bin) members[k].emplace_back(values_[i], weights_[i]);
      }
    }
    return members;
  }

  std::span<const double> values_;
  std::span<const double> weights_;
  double lowest_;
  double scale_;
  std::vector<Bin> bins_;
  double total_ = 0;
};

}  // namespace

std::vector<double> weighted_quantiles(std::span<const double> values,
                                       std::span<const double> weights,
                                       std::span<const double> shares,
                                       std::span<const double> shares_above) {
  const Extent extent = extent_of(extents_of(values));
  const bool spread = extent.highest > extent.lowest;
  if (!spread || !std::isfinite(extent.highest - extent.lowest)) {
    std::vector<double> all_alike(shares.size() + shares_above.size(), extent.lowest);
    if (spread || values.empty()) std::fill(all_alike.begin(), all_alike.end(), std::nan(""));
    return all_alike;
  }
  return Bins(values, weights, extent).quantiles(shares, shares_above);
}

}  // namespace aeruca::detail
