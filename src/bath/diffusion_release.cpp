#include "bath/diffusion_release.hpp"

#include <algorithm>
#include <cmath>

#include "bath/treatment.hpp"

namespace aeruca::detail {
namespace {

// Linear in the load: bath k holds load gain[k] + fill[k].
class LinearRelease final : public Release {
 public:
  [[nodiscard]] double released_mg(double load_mg, std::size_t k) const override {
    return load_mg * gain[k];
  }
  [[nodiscard]] double fill_mg(std::size_t k) const override { return fill[k]; }
  [[nodiscard]] double share_left(double /*load_mg*/) const override { return left; }

  std::vector<double> gain;  // of the load, per bath
  std::vector<double> fill;  // mg
  double left = 1;
};

double fill_of(const BathRecord& bath) {
  return bath.blank_or_zero() * bath.volume_l;
}

}  // namespace

DiffusionRelease::DiffusionRelease(const BathSequence& sequence, const BathFitOptions& options)
    : body_(options.body), library_(options.body.shape, options.body.biot) {
  const auto [least, most] = std::minmax_element(options.alphas.begin(), options.alphas.end());
  parameters_ = {
      {"load_mg", 0.5 * sequence.extracted_mg, options.load_factor_max * sequence.extracted_mg},
      {"rate_per_day", options.total_tau_min / sequence.total_days,
       options.total_tau_max / sequence.total_days},
      {"alpha", *least, *most}};
  for (const double alpha : options.alphas) alphas_.push_back({alpha});
}

std::unique_ptr<Release> DiffusionRelease::release(const BathSequence& sequence,
                                                   double rate_per_day,
                                                   std::span<const double> alpha) {
  ModeOptions modes;
  modes.accuracy = 1e-7;  // far below the error of any reading
  std::vector<BathStep> steps;
  bool filled = false;
  for (const BathRecord& bath : sequence.baths) {
    steps.push_back(
        {alpha[0] * bath.volume_l / sequence.mean_volume_l, rate_per_day * bath.days(), 0, 0});
    filled = filled || bath.blank_or_zero() > 0;
  }
  const BathSeries clean = series_with(library_, body_, steps, modes);
  auto release = std::make_unique<LinearRelease>();
  for (const BathPoint& end : clean.ends) release->gain.push_back(std::max(end.in_bath, 0.0));
  release->left = clean.ends[sequence.logged - 1].left;
  release->fill.assign(steps.size(), 0.0);
  if (!filled) return release;
  if (std::isinf(alpha[0])) {
    // A perfect sink takes nothing from its fill: the fill stays in the bath beside what was drawn.
    std::transform(sequence.baths.begin(), sequence.baths.end(), release->fill.begin(), fill_of);
    return release;
  }
  // Linear: the same with chloride in the fill, less the clean one.
  for (std::size_t k = 0; k < steps.size(); ++k) {
    steps[k].fill = fill_of(sequence.baths[k]) / sequence.extracted_mg;
  }
  const BathSeries salted = series_with(library_, body_, steps, modes);
  for (std::size_t k = 0; k < steps.size(); ++k) {
    release->fill[k] = (salted.ends[k].in_bath - clean.ends[k].in_bath) * sequence.extracted_mg;
  }
  return release;
}

}  // namespace aeruca::detail
