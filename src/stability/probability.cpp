#include "stability/probability.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <random>

namespace aeruca::detail {

namespace {

// Standard normal draws by Box and Muller: the same on every platform, unlike the library's
// distribution.
class Normal {
 public:
  explicit Normal(std::uint64_t seed) : engine_(seed) {}
  double operator()() {
    if (spare_) {
      const double value = *spare_;
      spare_.reset();
      return value;
    }
    const double radius = std::sqrt(-2 * std::log(uniform()));
    const double angle = 2 * std::numbers::pi * uniform();
    spare_ = radius * std::sin(angle);
    return radius * std::cos(angle);
  }

 private:
  // In (0, 1): 53 bits, never 0.
  double uniform() { return (static_cast<double>(engine_() >> 11) + 0.5) * 0x1.0p-53; }
  std::mt19937_64 engine_;
  std::optional<double> spare_;
};

double moved(const Errors& errors, const double* draw) {
  double sum = 0;
  for (const auto& [number, error] : errors) sum += error * draw[number];
  return sum;
}

// By how much q of each candidate moves in each sample: (samples, candidates).
std::vector<double> shifts_of(const System& system, const Regime& regime,
                              const std::vector<double>& draws, std::size_t samples) {
  const std::size_t sources = system.error_names.size();
  const std::size_t candidates = system.candidates.size();
  std::vector<double> shifts(samples * candidates);
  std::vector<double> held(regime.held.size());
  for (std::size_t s = 0; s < samples; ++s) {
    const double* draw = draws.data() + s * sources;
    for (std::size_t k = 0; k < held.size(); ++k) held[k] = moved(regime.held[k].errors, draw);
    for (std::size_t i = 0; i < candidates; ++i) {
      double shift = moved(system.candidates[i].errors, draw);
      for (std::size_t k = 0; k < held.size(); ++k) shift -= regime.in_held[i][k] * held[k];
      shifts[s * candidates + i] = shift / system.candidates[i].copper;
    }
  }
  return shifts;
}

// Adds one to the winner of each sample. Of equals the earlier wins, as everywhere.
void count_winners(const std::vector<double>& q, const std::vector<double>& shifts,
                   double* counts) {
  const std::size_t candidates = q.size();
  for (std::size_t start = 0; start < shifts.size(); start += candidates) {
    std::size_t best = 0;
    double highest = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < candidates; ++i) {
      const double here = q[i] + shifts[start + i];
      if (here > highest) highest = here, best = i;
    }
    counts[best] += 1;
  }
}

}  // namespace

std::vector<double> probabilities_at(const System& system, std::span<const double> x,
                                     std::span<const double> y, int samples, std::uint64_t seed) {
  const auto count = static_cast<std::size_t>(samples);
  const std::size_t candidates = system.candidates.size();
  Normal normal(seed);
  std::vector<double> draws(count * system.error_names.size());
  std::generate(draws.begin(), draws.end(), [&] { return normal(); });
  std::vector<std::vector<double>> shifts(system.regimes.size());  // filled when first needed
  std::vector<double> result(x.size() * candidates, 0);
  std::vector<double> q(candidates);
  for (std::size_t p = 0; p < x.size(); ++p) {
    const auto row = result.begin() + static_cast<std::ptrdiff_t>(p * candidates);
    if (std::isnan(x[p]) || std::isnan(y[p])) {
      std::fill_n(row, candidates, std::numeric_limits<double>::quiet_NaN());
      continue;
    }
    const std::size_t number = regime_at(system, {x[p], y[p]});
    const Regime& regime = system.regimes[number];
    if (shifts[number].empty()) shifts[number] = shifts_of(system, regime, draws, count);
    for (std::size_t i = 0; i < candidates; ++i) q[i] = regime.planes[i]({x[p], y[p]});
    count_winners(q, shifts[number], &*row);
    for (std::size_t i = 0; i < candidates; ++i) row[static_cast<std::ptrdiff_t>(i)] /= samples;
  }
  return result;
}

}  // namespace aeruca::detail
