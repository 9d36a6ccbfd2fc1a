#include "bath/treatment.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace aeruca::detail {
namespace {

std::string at(const char* field, std::size_t bath) {
  return std::string(field) + " of bath " + std::to_string(bath + 1);
}

void check_carry_over(std::span<const BathStep> baths, std::size_t k) {
  const double carried = baths[k].carry_over;
  if (!(carried >= 0 && carried <= 1)) {
    throw InputError(at("carry_over", k), carried, "0 to 1");
  }
  if (carried == 0) return;
  if (k == 0) throw InputError(at("carry_over", k), carried, "0, there is no bath before it");
  if (std::isinf(baths[k].alpha) || std::isinf(baths[k - 1].alpha)) {
    throw InputError(at("carry_over", k), carried, "0 beside a perfect sink");
  }
  if (carried * baths[k - 1].alpha > baths[k].alpha * (1 + 1e-12)) {
    throw InputError(at("carry_over", k), carried, "no more liquid than the new bath holds");
  }
}

}  // namespace

void check_treatment(const PorousBody& body, std::span<const BathStep> baths,
                     const ModeOptions& options) {
  if (!(body.biot > 0))
    throw InputError("biot", body.biot, "above 0, infinity for perfect stirring");
  if (body.load == InitialLoad::at_metal && body.shape != BodyShape::slab) {
    throw InputError("load", "at-metal", "uniform for a cylinder or sphere");
  }
  if (!(options.accuracy > 0 && options.accuracy <= 0.01)) {
    throw InputError("accuracy", options.accuracy, "above 0 to 0.01");
  }
  if (options.modes_max < 1) throw InputError("modes_max", "0", "1 or more");
  for (std::size_t k = 0; k < baths.size(); ++k) {
    const BathStep& bath = baths[k];
    if (!(bath.alpha > 0))
      throw InputError(at("alpha", k), bath.alpha, "above 0, infinity for a perfect sink");
    if (!(bath.tau >= 0 && std::isfinite(bath.tau)))
      throw InputError(at("tau", k), bath.tau, "0 or more");
    if (!(bath.fill >= 0 && std::isfinite(bath.fill)))
      throw InputError(at("fill", k), bath.fill, "0 or more");
    if (bath.fill > 0 && std::isinf(bath.alpha)) {
      throw InputError(at("fill", k), bath.fill, "0 for a perfect sink");
    }
    check_carry_over(baths, k);
  }
}

Treatment::Treatment(ModeLibrary& library, const PorousBody& body, std::vector<BathStep> baths,
                     std::vector<std::vector<double>> times, const ModeOptions& options)
    : body_(body),
      baths_(std::move(baths)),
      times_(std::move(times)),
      options_(options),
      library_(library) {
  choose_modes();
}

void Treatment::choose_modes() {
  std::map<double, double> shortest;  // by alpha
  for (std::size_t k = 0; k < baths_.size(); ++k) {
    double& tau = shortest.try_emplace(baths_[k].alpha, std::numeric_limits<double>::infinity())
                      .first->second;
    if (baths_[k].tau > 0) tau = std::min(tau, baths_[k].tau);
    for (const double time : times_[k]) {
      if (time > 0) tau = std::min(tau, time);
    }
  }
  for (const auto& [alpha, tau] : shortest) {
    const std::size_t wanted =
        std::isinf(tau) ? 1 : modes_needed(body_.shape, body_.load, tau, options_.accuracy);
    const std::size_t count = std::min(wanted, options_.modes_max);
    modes = std::max(modes, count);
    counts_[alpha] = count;
    (void)library_.get(alpha, count);
  }
}

void Treatment::fill_first() {
  const BathStep& bath = baths_.front();
  set_ = &library_.get(bath.alpha, 1);
  left_ = 1;
  in_bath_ = bath.fill;
  const double concentration = in_bath_ / bath.alpha;
  zero_ = (left_ + in_bath_) / (1 + bath.alpha);
  amplitude_.resize(counts_.at(bath.alpha));
  for (std::size_t n = 0; n < amplitude_.size(); ++n) {
    const double load = body_.load == InitialLoad::uniform ? set_->mean[n] : 1.0;
    amplitude_[n] = (load - set_->mean[n] * concentration) / set_->norm[n];
  }
}

void Treatment::run() {
  starts.clear();
  ends.clear();
  points.assign(baths_.size(), {});
  truncation_error = 0;
  begun_ = 0;
  for (bath_ = 0; bath_ < baths_.size(); ++bath_) {
    if (bath_ == 0)
      fill_first();
    else
      change_bath(bath_);
    starts.push_back({begun_, bath_, in_bath_, left_, 1 - left_});
    for (const double time : times_[bath_]) points[bath_].push_back(point_after(time));
    ends.push_back(point_after(baths_[bath_].tau));
    if (baths_[bath_].tau > 0) {
      // Twice: the steps at earlier changes also live in the modes cut off.
      truncation_error += 2 * tail_bound(body_.shape, body_.load, set_->q[amplitude_.size() - 1],
                                         baths_[bath_].tau);
    }
  }
}

double Treatment::left_after(double elapsed) const {
  double left = std::isinf(set_->alpha) ? 0 : zero_;
  for (std::size_t n = amplitude_.size(); n-- > 0;) {
    left += set_->mean[n] * amplitude_[n] * std::exp(-set_->q[n] * set_->q[n] * elapsed);
  }
  return left;
}

BathPoint Treatment::point_after(double elapsed) const {
  // The moment of filling is known exactly; the modes would need endless terms for it.
  const double left = elapsed == 0 ? left_ : left_after(elapsed);
  return {begun_ + elapsed, bath_, in_bath_ + (left_ - left), left, 1 - left};
}

// Old amplitudes decay to the end of the old bath, then only the bath's component jumps.
void Treatment::change_bath(std::size_t next) {
  const BathStep& old_bath = baths_[next - 1];
  const BathStep& bath = baths_[next];
  const BathPoint end = ends.back();
  for (std::size_t n = 0; n < amplitude_.size(); ++n) {
    amplitude_[n] *= std::exp(-set_->q[n] * set_->q[n] * old_bath.tau);
  }
  const double kept = bath.carry_over;
  left_ = end.left;
  in_bath_ = kept == 0 ? bath.fill
                       : kept * end.in_bath + bath.fill * (1 - kept * old_bath.alpha / bath.alpha);
  const double concentration = in_bath_ / bath.alpha;
  if (bath.alpha == old_bath.alpha && options_.change == ModeOptions::Change::automatic) {
    rescale_equal(concentration - (std::isinf(bath.alpha) ? 0 : end.in_bath / bath.alpha));
  } else {
    project(bath.alpha, concentration);
  }
  zero_ = (left_ + in_bath_) / (1 + bath.alpha);
  begun_ = end.tau;
}

void Treatment::rescale_equal(double concentration_change) {
  for (std::size_t n = 0; n < amplitude_.size(); ++n) {
    amplitude_[n] -= set_->mean[n] * concentration_change / set_->norm[n];
  }
}

void Treatment::project(double alpha, double concentration) {
  const ModeSet& to = library_.get(alpha, 1);
  std::vector<double> fresh(counts_.at(alpha));
  const double zero = std::isinf(set_->alpha) ? 0 : zero_;
  for (std::size_t j = 0; j < fresh.size(); ++j) {
    const double body = zero * to.mean[j] + project_on(*set_, amplitude_, to, j);
    fresh[j] = (body - concentration * to.mean[j]) / to.norm[j];
  }
  amplitude_ = std::move(fresh);
  set_ = &to;
}

}  // namespace aeruca::detail
