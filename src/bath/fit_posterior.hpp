#pragma once

// The posterior of one release model for one bath log, as weighted points.

#include <memory>
#include <utility>
#include <vector>

#include "bath/release_model.hpp"

namespace aeruca::detail {

struct PosteriorPoint {
  std::size_t release = 0;  ///< position in Posterior::releases
  std::size_t rate_index = 0, load_index = 0;
  double rate = 0;
  double load_mg = 0;
  double log_density = 0;
  double weight = 0;  ///< all add up to 1
};

struct Posterior {
  std::vector<std::unique_ptr<Release>> releases;
  std::vector<std::size_t> alternative;  ///< of each release: position in the model's alternatives
  std::vector<PosteriorPoint> points;
  std::size_t best = 0;

  [[nodiscard]] const Release& release(const PosteriorPoint& point) const {
    return *releases[point.release];
  }
};

/// Value of the model's parameter at a point, in the order of its `parameters()`.
double parameter_value(const ReleaseModel& model, const Posterior& posterior,
                       const PosteriorPoint& point, std::size_t parameter);

/// mg/L in bath k.
double expected_mg_per_l(const BathSequence& sequence, const Release& release, double load_mg,
                         std::size_t k);

/// Standard error of a reading of bath k expected to be `mg_per_l`, volume counted.
double reading_sigma(const BathRecord& bath, double mg_per_l, const ReadingErrors& errors);

Posterior make_posterior(const BathSequence& sequence, ReleaseModel& model,
                         const BathFitOptions& options);

/// Median and 5-95 % range of values carried by weights (need not add up to 1).
Range weighted_range(std::vector<std::pair<double, double>> value_and_weight);

}  // namespace aeruca::detail
