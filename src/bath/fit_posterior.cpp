#include "bath/fit_posterior.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>

#include "aeruca/not_given.hpp"
#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr double kDrop = 12;  // log density below the top that still counts: 6e-6 in density
constexpr std::size_t kLoadPoints = 33;
constexpr std::size_t kScanPoints = 28;
constexpr double kLeastSigma = 1e-9;  // mg/L; keeps a reading without any stated error finite

double log_likelihood(const BathSequence& sequence, const Release& release, double load_mg,
                      const ReadingErrors& errors) {
  double sum = 0;
  for (std::size_t k = 0; k < sequence.logged; ++k) {
    const BathRecord& bath = sequence.baths[k];
    // A reading between two marks is left to the posterior over models, which knows ranges.
    if (bath.kind == ReadingKind::not_measured || bath.kind == ReadingKind::between) continue;
    const double expected = expected_mg_per_l(sequence, release, load_mg, k);
    const double sigma = reading_sigma(bath, expected, errors);
    const double z = (bath.chloride_mg_per_l - expected) / sigma;
    sum +=
        bath.kind == ReadingKind::measured ? -0.5 * z * z - std::log(sigma) : log_normal_below(z);
  }
  return sum;
}

// Points along ln load at one rate, wide enough for every density within kDrop of the best.
struct LoadSlice {
  double low = 0, high = 0, top = 0;
};

LoadSlice find_slice(const BathSequence& sequence, const Release& release,
                     const ReadingErrors& errors, double low, double high) {
  const auto density = [&](double log_load) {
    return log_likelihood(sequence, release, std::exp(log_load), errors);
  };
  const auto best = boost::math::tools::brent_find_minima(
      [&](double log_load) { return -density(log_load); }, low, high, 24);
  LoadSlice slice{best.first, best.first, -best.second};
  for (double step = 1e-3; slice.low > low && density(slice.low) > slice.top - kDrop; step *= 1.5) {
    slice.low = std::max(low, slice.low - step);
  }
  for (double step = 1e-3; slice.high < high && density(slice.high) > slice.top - kDrop;
       step *= 1.5) {
    slice.high = std::min(high, slice.high + step);
  }
  return slice;
}

class PosteriorMaker {
 public:
  PosteriorMaker(const BathSequence& sequence, ReleaseModel& model, const BathFitOptions& options)
      : sequence_(sequence), model_(model), options_(options) {
    const ReleaseParameter& load = model.parameters()[0];
    log_load_low_ = std::log(load.low);
    log_load_high_ = std::log(load.high);
  }

  // Each scan puts half of the next one's points where the weight is, half evenly over what
  // matters.
  Posterior make() {
    const ReleaseParameter& rate = model_.parameters()[1];
    std::vector<double> log_rates = evenly(std::log(rate.low), std::log(rate.high), kScanPoints);
    for (int scan = 0; scan < 3; ++scan) {
      log_rates = better_points(log_rates, scan < 2 ? kScanPoints : options_.grid);
    }
    fill_grid(log_rates);
    weigh();
    return std::move(posterior_);
  }

 private:
  static std::vector<double> evenly(double low, double high, std::size_t count) {
    std::vector<double> points(count);
    for (std::size_t i = 0; i < count; ++i) {
      points[i] = low + (high - low) * static_cast<double>(i) / static_cast<double>(count - 1);
    }
    return points;
  }

  [[nodiscard]] std::unique_ptr<Release> release(double log_rate, std::size_t alternative) const {
    return model_.release(sequence_, std::exp(log_rate), model_.alternatives()[alternative]);
  }

  [[nodiscard]] LoadSlice slice(const Release& release) const {
    return find_slice(sequence_, release, options_.errors, log_load_low_, log_load_high_);
  }

  // For the even prior, which asks how the share out grows with the rate. Of a model that is not
  // linear in the load, at the load that the log shows at least.
  [[nodiscard]] double share_left(const Release& release) const {
    return release.share_left(sequence_.extracted_mg);
  }

  // ln of the density of each rate, load and the other parameters integrated over roughly.
  [[nodiscard]] std::vector<double> scan(const std::vector<double>& log_rates) const {
    std::vector<double> density;
    std::vector<double> left;
    for (const double log_rate : log_rates) {
      double top = -std::numeric_limits<double>::infinity();
      for (std::size_t a = 0; a < model_.alternatives().size(); ++a) {
        const std::unique_ptr<Release> at = release(log_rate, a);
        const LoadSlice loads = slice(*at);
        top = std::max(top, loads.top + std::log(std::max(loads.high - loads.low, 1e-12)));
        if (a == 0) left.push_back(share_left(*at));
      }
      density.push_back(top);
    }
    if (options_.prior == RatePrior::log_uniform) return density;
    const std::vector<double> widths = prior_widths(log_rates, left);
    const std::vector<double> even = spacings(log_rates);
    for (std::size_t i = 0; i < density.size(); ++i)
      density[i] += std::log(widths[i] / even[i] + 1e-300);
    return density;
  }

  // What each point stands for, by the trapezium rule.
  static std::vector<double> spacings(const std::vector<double>& at) {
    std::vector<double> widths;
    for (std::size_t i = 0; i < at.size(); ++i) {
      widths.push_back(0.5 * (at[std::min(i + 1, at.size() - 1)] - at[i > 0 ? i - 1 : 0]));
    }
    return widths;
  }

  // Prior probability of each rate, up to a factor: even in ln rate, or even in the share that is
  // out.
  [[nodiscard]] std::vector<double> prior_widths(const std::vector<double>& log_rates,
                                                 const std::vector<double>& left) const {
    if (options_.prior == RatePrior::log_uniform) return spacings(log_rates);
    std::vector<double> share;
    share.reserve(left.size());
    for (const double value : left) share.push_back(1 - value);
    std::vector<double> widths = spacings(share);
    for (double& width : widths) width = std::max(width, 0.0);  // rounding where nothing is left
    return widths;
  }

  [[nodiscard]] std::vector<double> better_points(const std::vector<double>& at,
                                                  std::size_t count) const {
    std::vector<double> density = scan(at);
    const double top = *std::max_element(density.begin(), density.end());
    std::size_t first = 0;
    std::size_t last = at.size() - 1;
    while (first + 1 < last && density[first + 1] < top - kDrop) ++first;
    while (last > first + 1 && density[last - 1] < top - kDrop) --last;
    std::vector<double> cumulative{0};
    for (std::size_t i = first + 1; i <= last; ++i) {
      const double mean = 0.5 * (std::exp(density[i - 1] - top) + std::exp(density[i] - top));
      cumulative.push_back(cumulative.back() + mean * (at[i] - at[i - 1]));
    }
    for (std::size_t i = 0; i < cumulative.size(); ++i) {
      cumulative[i] =
          cumulative[i] / cumulative.back() + (at[first + i] - at[first]) / (at[last] - at[first]);
    }
    std::vector<double> points;
    std::size_t cell = 1;
    for (const double share : evenly(0, cumulative.back(), count)) {
      while (cell + 1 < cumulative.size() && cumulative[cell] < share) ++cell;
      const double part =
          (share - cumulative[cell - 1]) / (cumulative[cell] - cumulative[cell - 1]);
      points.push_back(at[first + cell - 1] + part * (at[first + cell] - at[first + cell - 1]));
    }
    return points;
  }

  void fill_grid(const std::vector<double>& log_rates) {
    for (std::size_t a = 0; a < model_.alternatives().size(); ++a) {
      const std::size_t first = posterior_.releases.size();
      std::vector<double> left;
      for (const double log_rate : log_rates) {
        posterior_.releases.push_back(release(log_rate, a));
        posterior_.alternative.push_back(a);
        left.push_back(share_left(*posterior_.releases.back()));
      }
      const std::vector<double> widths = prior_widths(log_rates, left);
      for (std::size_t i = 0; i < log_rates.size(); ++i) {
        add_slice(first + i, std::exp(log_rates[i]), i, widths[i]);
      }
    }
  }

  // Trapezium along ln load; `width` is the prior's along the rate.
  void add_slice(std::size_t index, double rate, std::size_t rate_index, double width) {
    const Release& at = *posterior_.releases[index];
    const LoadSlice loads = slice(at);
    const double step = (loads.high - loads.low) / (kLoadPoints - 1);
    if (!(step > 0)) return;
    for (std::size_t j = 0; j < kLoadPoints; ++j) {
      const double load = std::exp(loads.low + step * static_cast<double>(j));
      const double density = log_likelihood(sequence_, at, load, options_.errors);
      const double ends = j == 0 || j + 1 == kLoadPoints ? 0.5 : 1.0;
      posterior_.points.push_back({index, rate_index, j, rate, load, density, ends * step * width});
    }
  }

  void weigh() {
    double top = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < posterior_.points.size(); ++i) {
      if (posterior_.points[i].log_density > top) {
        top = posterior_.points[i].log_density;
        posterior_.best = i;
      }
    }
    double sum = 0;
    for (PosteriorPoint& point : posterior_.points)
      sum += point.weight *= std::exp(point.log_density - top);
    for (PosteriorPoint& point : posterior_.points) point.weight /= sum;
  }

  const BathSequence& sequence_;
  ReleaseModel& model_;
  const BathFitOptions& options_;
  double log_load_low_ = 0;
  double log_load_high_ = 0;
  Posterior posterior_;
};

}  // namespace

double parameter_value(const ReleaseModel& model, const Posterior& posterior,
                       const PosteriorPoint& point, std::size_t parameter) {
  if (parameter == 0) return point.load_mg;
  if (parameter == 1) return point.rate;
  return model.alternatives()[posterior.alternative[point.release]][parameter - 2];
}

double expected_mg_per_l(const BathSequence& sequence, const Release& release, double load_mg,
                         std::size_t k) {
  return (release.released_mg(load_mg, k) + release.fill_mg(k)) / sequence.baths[k].volume_l;
}

double reading_sigma(const BathRecord& bath, double mg_per_l, const ReadingErrors& errors) {
  const double sigma = std::hypot(reading_error_mg_per_l(bath, mg_per_l, errors),
                                  errors.volume_relative * (mg_per_l - bath.blank_or_zero()));
  return std::max(sigma, kLeastSigma);
}

Posterior make_posterior(const BathSequence& sequence, ReleaseModel& model,
                         const BathFitOptions& options) {
  return PosteriorMaker(sequence, model, options).make();
}

Range weighted_range(std::vector<std::pair<double, double>> value_and_weight) {
  if (value_and_weight.empty()) {  // every second point of a posterior one point wide
    return {kNotGiven, kNotGiven, kNotGiven};
  }
  std::sort(value_and_weight.begin(), value_and_weight.end());
  double total = 0;
  for (const auto& [value, weight] : value_and_weight) total += weight;
  const auto quantile = [&](double share) {
    double before = 0;
    double previous = value_and_weight.front().first;
    double previous_share = 0;
    for (const auto& [value, weight] : value_and_weight) {
      const double middle = (before + 0.5 * weight) / total;
      if (middle >= share) {
        const double span = middle - previous_share;
        return span > 0 && value > previous
                   ? previous + (value - previous) * (share - previous_share) / span
                   : value;
      }
      before += weight;
      previous = value;
      previous_share = middle;
    }
    return previous;
  };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

}  // namespace aeruca::detail
