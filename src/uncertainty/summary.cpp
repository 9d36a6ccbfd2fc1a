#include "uncertainty/summary.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/not_given.hpp"

namespace aeruca::detail {
namespace {

constexpr double kSolved = 1e-7;  // relative, well above the tolerance of any certificate

double at_share(const std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 >= sorted.size()) return sorted.back();
  const double part = place - static_cast<double>(below);
  return sorted[below] + part * (sorted[below + 1] - sorted[below]);
}

}  // namespace

std::vector<double> quantiles(std::vector<double> draws, std::span<const double> shares) {
  std::vector<double> found(shares.size(), kNotGiven);
  std::erase_if(draws, [](double each) { return std::isnan(each); });
  if (draws.empty()) return found;
  std::sort(draws.begin(), draws.end());
  for (std::size_t k = 0; k < found.size(); ++k) found[k] = at_share(draws, shares[k]);
  return found;
}

CountedShare share_of(std::size_t counted, std::size_t draws) {
  if (draws == 0) return {kNotGiven, kNotGiven};
  const auto n = static_cast<double>(draws);
  const auto k = static_cast<double>(counted);
  const double drawn_in = (k + 2) / (n + 4);
  return {k / n, std::sqrt(drawn_in * (1 - drawn_in) / (n + 4))};
}

Varying::Varying(std::vector<double> causes, std::size_t draws)
    : values_(std::move(causes)), draws_(draws) {}

std::vector<double> Varying::shares(std::span<const double> figure) const {
  std::vector<double> weight(draws_);  // 1 where it counts
  std::vector<double> about(draws_);   // the figure about its mean
  double n = 0;
  double sum = 0;
  for (std::size_t d = 0; d < draws_; ++d) {
    weight[d] = std::isnan(figure[d]) ? 0 : 1;
    n += weight[d];
    if (weight[d] > 0) sum += figure[d];
  }
  std::vector<double> all(causes(), 0);
  if (n < 2) return all;
  double variance = 0;
  for (std::size_t d = 0; d < draws_; ++d) {
    about[d] = weight[d] > 0 ? figure[d] - sum / n : 0;
    variance += about[d] * about[d];
  }
  // What is given moves by the tolerance of the solver alone.
  const double least = n * kSolved * kSolved * std::max(1.0, (sum / n) * (sum / n));
  if (!(variance > least)) return all;
  for (std::size_t c = 0; c < all.size(); ++c) {
    const double* cause = values_.data() + c * draws_;
    double product = 0;
    double total = 0;
    double squares = 0;
    for (std::size_t d = 0; d < draws_; ++d) {
      product += about[d] * cause[d];
      total += weight[d] * cause[d];
      squares += weight[d] * cause[d] * cause[d];
    }
    const double spread = squares - total * total / n;
    if (spread > 0) all[c] = product * product / (variance * spread);
  }
  return all;
}

double share_error(double share, std::size_t draws) {
  return 2 * std::sqrt(share) * (1 - share) / std::sqrt(static_cast<double>(draws));
}

}  // namespace aeruca::detail
