#pragma once

// Draws from a density over a few standardised unknowns, and its integral.
//
// Method: adaptive multiple importance sampling (J.-M. Cornuet, J.-M. Marin, A. Mira, C. P. Robert,
// Scand. J. Statist. 39 (2012) 798; recalled, not seen). The first points are spread evenly over the
// standard normal (a shifted Halton sequence); each later round draws from Student kernels around
// the best of what is known, at first with the weights flattened so that no early favourite hides
// the rest; all points of all rounds count, each weighed by the mixture of what it could have come
// from. So the integral comes with the draws, and the effective number of draws says how far both
// are to be trusted.

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace aeruca::detail {

struct SamplingEffort {
  std::size_t first = 256;  ///< points from the standard normal
  std::size_t round = 96;   ///< points of each later round
  std::size_t rounds = 4;   ///< at least
  std::size_t rounds_max = 9;
  double effective = 150;  ///< rounds go on until so many draws are effective
};

struct WeighedSample {
  std::vector<double> points;       ///< one after the other, `dimension` numbers each
  std::vector<double> log_density;  ///< of each: ln of the likelihood handed in
  std::vector<double> weight;       ///< of each; add up to 1, all 0 where the density is 0
  double log_integral = 0;          ///< ln of the mean likelihood over the standard normal
  double effective = 0;             ///< 1 / sum of squared weights
};

/// `log_likelihood` over standard normal unknowns (minus infinity: impossible). `dimension` 1 to 8.
[[nodiscard]] WeighedSample sample_adaptively(
    std::size_t dimension, const std::function<double(std::span<const double>)>& log_likelihood,
    const SamplingEffort& effort, std::uint64_t seed);

}  // namespace aeruca::detail
