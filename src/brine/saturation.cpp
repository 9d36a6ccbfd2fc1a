#include "brine/saturation.hpp"

#include <math.h>  // NOLINT: pchip of Boost 1.74 calls isnan without std

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "aeruca/not_given.hpp"

namespace aeruca::detail {
namespace {

double straight(std::span<const std::pair<double, double>> table, double x) {
  for (std::size_t i = 1; i < table.size(); ++i) {
    const auto& [x0, y0] = table[i - 1];
    const auto& [x1, y1] = table[i];
    if (x <= x1) return y0 + (y1 - y0) * (x - x0) / (x1 - x0);
  }
  return table.back().second;
}

}  // namespace

double interpolate(std::span<const std::pair<double, double>> table, double x) {
  if (table.empty() || !(x >= table.front().first && x <= table.back().first)) return kNotGiven;
  for (const auto& [node, value] : table) {
    if (x == node) return value;
  }
  const auto unknown = [](const auto& point) { return std::isnan(point.second); };
  if (table.size() < 4 || std::any_of(table.begin(), table.end(), unknown))
    return straight(table, x);
  std::vector<double> nodes;
  std::vector<double> values;
  for (const auto& [node, value] : table) {
    nodes.push_back(node);
    values.push_back(value);
  }
  const boost::math::interpolators::pchip<std::vector<double>> curve(std::move(nodes),
                                                                     std::move(values));
  return curve(x);
}

double saturation_molality(const SaltModel& model, double ln_k) {
  constexpr double kLowest = 1e-9;
  constexpr double kHighest = 30.0;
  constexpr double kRatio = 1.1;  // fine enough not to step over a pair of roots of the fitted sets
  const auto excess = [&](double ln_m) { return model.ln_product(std::exp(ln_m)) - ln_k; };
  double low = std::log(kLowest);
  if (!(excess(low) < 0)) return kNotGiven;
  const double end = std::log(kHighest);
  while (low < end) {
    const double high = std::min(low + std::log(kRatio), end);
    if (excess(high) >= 0) {
      std::uintmax_t iterations = 100;
      const auto [a, b] = boost::math::tools::toms748_solve(
          excess, low, high, boost::math::tools::eps_tolerance<double>(48), iterations);
      return std::exp(0.5 * (a + b));
    }
    low = high;
  }
  return kNotGiven;
}

}  // namespace aeruca::detail
