#include "stability/probability.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/not_given.hpp"
#include "uncertainty/draws.hpp"

namespace aeruca::detail {

namespace {

// By how much q of each candidate moves in each sample: (samples, candidates).
std::vector<double> shifts_of(const System& system, const Regime& regime, const Draws& draws) {
  const std::size_t candidates = system.candidates.size();
  std::vector<double> shifts(draws.samples() * candidates);
  std::vector<double> held(regime.held.size());
  for (std::size_t s = 0; s < draws.samples(); ++s) {
    const auto sample = draws.sample(s);
    for (std::size_t k = 0; k < held.size(); ++k) held[k] = moved(regime.held[k].errors, sample);
    for (std::size_t i = 0; i < candidates; ++i) {
      double shift = moved(system.candidates[i].errors, sample);
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
  const std::size_t candidates = system.candidates.size();
  const Draws draws(static_cast<std::size_t>(samples), system.error_names.size(), seed);
  std::vector<std::vector<double>> shifts(system.regimes.size());  // filled when first needed
  std::vector<double> result(x.size() * candidates, 0);
  std::vector<double> q(candidates);
  for (std::size_t p = 0; p < x.size(); ++p) {
    const auto row = result.begin() + static_cast<std::ptrdiff_t>(p * candidates);
    if (std::isnan(x[p]) || std::isnan(y[p])) {
      std::fill_n(row, candidates, kNotGiven);
      continue;
    }
    const std::size_t number = regime_at(system, {x[p], y[p]});
    const Regime& regime = system.regimes[number];
    if (shifts[number].empty()) shifts[number] = shifts_of(system, regime, draws);
    for (std::size_t i = 0; i < candidates; ++i) q[i] = regime.planes[i]({x[p], y[p]});
    count_winners(q, shifts[number], &*row);
    for (std::size_t i = 0; i < candidates; ++i) row[static_cast<std::ptrdiff_t>(i)] /= samples;
  }
  return result;
}

}  // namespace aeruca::detail
