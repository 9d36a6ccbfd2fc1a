#include "bath/changed_history.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "numerics/adaptive_sampling.hpp"
#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr double kRateFactor = 6;
constexpr double kFreedFactor = 3;
constexpr std::size_t kReadingsNeeded = 5;

enum class Change { rate, extractable };

class Changed {
 public:
  Changed(const ObservedTreatment& treatment, const BathPriors& priors, double first_volume_l,
          Change change)
      : treatment_(treatment),
        priors_(priors),
        first_volume_(first_volume_l),
        change_(change),
        weight_by_bath_(treatment.steps.size(), 0.0) {}

  // Unknowns: rate, capacity, when, by how much, and the scatter where it is not stated.
  ChangedHistory sample(std::uint64_t seed) {
    std::vector<std::size_t> when;
    const auto likelihood = [&](std::span<const double> z) {
      const std::vector<double> body{z[0], z[1], z.size() > 4 ? z[4] : 0.0};
      const bool scatter = treatment_.scatter_unknown;
      const ModelUnknowns unknowns =
          unknowns_at(BathModel::slab, body, priors_, first_volume_, scatter);
      const auto later = static_cast<double>(treatment_.steps.size() - 1);
      const std::size_t from =
          1 + static_cast<std::size_t>(std::min(normal_below(z[2]) * later, later - 1));
      when.push_back(from);
      return integrate_load(treatment_, release(unknowns, from, z[3]), unknowns.scatter,
                            priors_.load_mg_per_first_litre, first_volume_)
          .log_integral;
    };
    SamplingEffort effort;
    effort.first = 384;
    effort.rounds_max = 5;
    const WeighedSample sample =
        sample_adaptively(treatment_.scatter_unknown ? 5 : 4, likelihood, effort, seed);
    for (std::size_t n = 0; n < sample.weight.size(); ++n)
      weight_by_bath_[when[n]] += sample.weight[n];
    const auto most = std::max_element(weight_by_bath_.begin(), weight_by_bath_.end());
    return {sample.log_integral,
            treatment_.steps[static_cast<std::size_t>(most - weight_by_bath_.begin())].bath};
  }

 private:
  [[nodiscard]] UnitRelease release(const ModelUnknowns& unknowns, std::size_t from,
                                    double z) const {
    if (change_ == Change::rate) {
      std::vector<ObservedStep> steps = treatment_.steps;
      for (std::size_t k = from; k < steps.size(); ++k) steps[k].days *= std::pow(kRateFactor, z);
      return unit_release(BathModel::slab, unknowns, steps, Fineness::reading);
    }
    UnitRelease release =
        unit_release(BathModel::slab, unknowns, treatment_.steps, Fineness::reading);
    for (std::size_t k = from; k < release.in_bath.size(); ++k)
      release.in_bath[k] *= std::pow(kFreedFactor, z);
    return release;
  }

  const ObservedTreatment& treatment_;
  const BathPriors& priors_;
  double first_volume_;
  Change change_;
  std::vector<double> weight_by_bath_;
};

}  // namespace

ChangedHistory changed_history(const ObservedTreatment& treatment, const BathPriors& priors,
                               double first_volume_l, std::uint64_t seed) {
  if (treatment.measured() < kReadingsNeeded || treatment.steps.size() < 3)
    return {-std::numeric_limits<double>::infinity(), 0};
  const ChangedHistory rate = Changed(treatment, priors, first_volume_l, Change::rate).sample(seed);
  const ChangedHistory freed =
      Changed(treatment, priors, first_volume_l, Change::extractable).sample(seed + 1);
  return rate.log_evidence > freed.log_evidence ? rate : freed;
}

}  // namespace aeruca::detail
