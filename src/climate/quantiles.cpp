#include <algorithm>
#include <cmath>
#include <limits>

#include "climate/known_time.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kBins = 4096;

// Bins find where a quantile lies; only the values of that one bin are sorted. Exact, and one pass over
// the values for any number of quantiles plus one for each.
class Bins {
 public:
  Bins(std::span<const double> values, std::span<const double> weights, double lowest, double highest)
      : values_(values), weights_(weights), lowest_(lowest),
        scale_(static_cast<double>(kBins) / (highest - lowest)), mass_(kBins, 0.0) {
    for (std::size_t i = 0; i < values.size(); ++i) mass_[bin_of(values[i])] += weights[i];
    for (const double mass : mass_) total_ += mass;
  }

  [[nodiscard]] double quantile(double share) const {
    const double wanted = share * total_ * (1 - 1e-12);  // rounding must not push it to the next value
    double below = 0;
    std::size_t bin = 0;
    while (bin + 1 < kBins && below + mass_[bin] < wanted) below += mass_[bin++];
    std::vector<std::pair<double, double>> members;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      if (bin_of(values_[i]) == bin) members.emplace_back(values_[i], weights_[i]);
    }
    std::sort(members.begin(), members.end());
    for (const auto& [value, weight] : members) {
      below += weight;
      if (below >= wanted) return value;
    }
    return members.empty() ? std::nan("") : members.back().first;
  }

 private:
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

std::vector<double> weighted_quantiles(std::span<const double> values, std::span<const double> weights,
                                       std::span<const double> shares) {
  std::vector<double> quantiles(shares.size(), std::nan(""));
  if (values.empty() || std::any_of(values.begin(), values.end(), [](double x) { return std::isnan(x); })) {
    return quantiles;
  }
  const auto [lowest, highest] = std::minmax_element(values.begin(), values.end());
  if (!(*highest > *lowest)) {
    std::fill(quantiles.begin(), quantiles.end(), *lowest);
    return quantiles;
  }
  const Bins bins(values, weights, *lowest, *highest);
  std::transform(shares.begin(), shares.end(), quantiles.begin(), [&](double share) { return bins.quantile(share); });
  return quantiles;
}

}  // namespace aeruca::detail
