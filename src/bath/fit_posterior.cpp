#include "bath/fit_posterior.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "bath/treatment.hpp"

namespace aeruca::detail {
namespace {

constexpr double kDrop = 12;  // log density below the top that still counts: 6e-6 in density
constexpr std::size_t kLoadPoints = 33;
constexpr std::size_t kScanPoints = 28;
constexpr double kLeastSigma = 1e-9;  // mg/L; keeps a reading without any stated error finite

// ln of the probability that a Gaussian falls below `z` standard errors; erfc underflows past -38.
double log_below(double z) {
  if (z < -30) return -0.5 * z * z - std::log(-z * std::sqrt(2 * std::numbers::pi));
  return std::log(0.5 * std::erfc(-z / std::numbers::sqrt2));
}

double log_likelihood(const LogModel& model, const Response& response, double load_mg,
                      const ReadingErrors& errors) {
  double sum = 0;
  for (std::size_t k = 0; k < model.logged; ++k) {
    const BathRecord& bath = model.baths[k];
    if (bath.kind == ReadingKind::not_measured) continue;
    const double expected = expected_mg_per_l(model, response, load_mg, k);
    const double sigma = reading_sigma(bath, expected, errors);
    const double z = (bath.chloride_mg_per_l - expected) / sigma;
    sum += bath.kind == ReadingKind::measured ? -0.5 * z * z - std::log(sigma) : log_below(z);
  }
  return sum;
}

// Points along ln load at one rate, wide enough for every density within kDrop of the best.
struct LoadSlice {
  double low = 0, high = 0, top = 0;
};

LoadSlice find_slice(const LogModel& model, const Response& response, const ReadingErrors& errors,
                     double low, double high) {
  const auto density = [&](double log_load) {
    return log_likelihood(model, response, std::exp(log_load), errors);
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
  PosteriorMaker(LogModel& model, const BathFitOptions& options)
      : model_(model), options_(options) {
    posterior_.log_load_low = std::log(0.5 * model.extracted_mg);
    posterior_.log_load_high = std::log(options.load_factor_max * model.extracted_mg);
    posterior_.log_rate_low = std::log(options.total_tau_min / model.total_days);
    posterior_.log_rate_high = std::log(options.total_tau_max / model.total_days);
  }

  // Each scan puts half of the next one's points where the weight is, half evenly over what
  // matters.
  Posterior make() {
    std::vector<double> log_rates =
        evenly(posterior_.log_rate_low, posterior_.log_rate_high, kScanPoints);
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

  // ln of the density of each rate, load and partition integrated over roughly.
  [[nodiscard]] std::vector<double> scan(const std::vector<double>& log_rates) {
    std::vector<double> density;
    std::vector<double> left;
    for (const double log_rate : log_rates) {
      double top = -std::numeric_limits<double>::infinity();
      for (const double alpha : options_.alphas) {
        const Response response = model_.response(std::exp(log_rate), alpha);
        const LoadSlice slice = find_slice(model_, response, options_.errors,
                                           posterior_.log_load_low, posterior_.log_load_high);
        top = std::max(top, slice.top + std::log(std::max(slice.high - slice.low, 1e-12)));
        if (alpha == options_.alphas.front()) left.push_back(response.left);
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
                                                  std::size_t count) {
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
    for (std::size_t a = 0; a < options_.alphas.size(); ++a) {
      const std::size_t first = posterior_.responses.size();
      std::vector<double> left;
      for (const double log_rate : log_rates) {
        posterior_.responses.push_back(model_.response(std::exp(log_rate), options_.alphas[a]));
        posterior_.partition.push_back(a);
        left.push_back(posterior_.responses.back().left);
      }
      const std::vector<double> widths = prior_widths(log_rates, left);
      for (std::size_t i = 0; i < log_rates.size(); ++i) {
        add_slice(first + i, std::exp(log_rates[i]), i, widths[i]);
      }
    }
  }

  // Trapezium along ln load; `width` is the prior's along the rate.
  void add_slice(std::size_t index, double rate, std::size_t rate_index, double width) {
    const Response& response = posterior_.responses[index];
    const LoadSlice slice = find_slice(model_, response, options_.errors, posterior_.log_load_low,
                                       posterior_.log_load_high);
    const double step = (slice.high - slice.low) / (kLoadPoints - 1);
    if (!(step > 0)) return;
    for (std::size_t j = 0; j < kLoadPoints; ++j) {
      const double load = std::exp(slice.low + step * static_cast<double>(j));
      const double density = log_likelihood(model_, response, load, options_.errors);
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

  LogModel& model_;
  const BathFitOptions& options_;
  Posterior posterior_;
};

}  // namespace

LogModel::LogModel(const BathLog& log, const BathFitOptions& options, std::size_t future)
    : baths(log.baths),
      logged(log.baths.size()),
      body_(options.body),
      library_(options.body.shape, options.body.biot) {
  for (const BathRecord& bath : log.baths) {
    mean_volume_l_ += bath.volume_l / static_cast<double>(logged);
    total_days += bath.days();
    if (bath.kind == ReadingKind::measured) {
      extracted_mg += (bath.chloride_mg_per_l - bath.blank_or_zero()) * bath.volume_l;
    }
  }
  BathRecord next = log.baths.back();
  const double days = std::isnan(options.next_days) ? next.days() : options.next_days;
  next.start_day = next.end_day;
  next.end_day += days;
  if (!std::isnan(options.next_volume_l)) next.volume_l = options.next_volume_l;
  baths.insert(baths.end(), future, next);
}

Response LogModel::response(double rate_per_day, double mean_alpha) {
  ModeOptions modes;
  modes.accuracy = 1e-7;  // far below the error of any reading
  std::vector<BathStep> steps;
  bool filled = false;
  for (const BathRecord& bath : baths) {
    steps.push_back(
        {mean_alpha * bath.volume_l / mean_volume_l_, rate_per_day * bath.days(), 0, 0});
    filled = filled || bath.blank_or_zero() > 0;
  }
  const BathSeries clean = series_with(library_, body_, steps, modes);
  Response response;
  for (const BathPoint& end : clean.ends) response.gain.push_back(std::max(end.in_bath, 0.0));
  response.left = clean.ends[logged - 1].left;
  response.fill.assign(steps.size(), 0.0);
  if (!filled) return response;
  if (std::isinf(mean_alpha)) {
    // A perfect sink takes nothing from its fill: the fill stays in the bath beside what was drawn.
    for (std::size_t k = 0; k < steps.size(); ++k) {
      response.fill[k] = baths[k].blank_or_zero() * baths[k].volume_l;
    }
    return response;
  }
  // Linear: the same with chloride in the fill, less the clean one.
  for (std::size_t k = 0; k < steps.size(); ++k) {
    steps[k].fill = baths[k].blank_or_zero() * baths[k].volume_l / extracted_mg;
  }
  const BathSeries salted = series_with(library_, body_, steps, modes);
  for (std::size_t k = 0; k < steps.size(); ++k) {
    response.fill[k] = (salted.ends[k].in_bath - clean.ends[k].in_bath) * extracted_mg;
  }
  return response;
}

double expected_mg_per_l(const LogModel& model, const Response& response, double load_mg,
                         std::size_t k) {
  return (load_mg * response.gain[k] + response.fill[k]) / model.baths[k].volume_l;
}

double reading_sigma(const BathRecord& bath, double mg_per_l, const ReadingErrors& errors) {
  const double sigma = std::hypot(reading_error_mg_per_l(bath, mg_per_l, errors),
                                  errors.volume_relative * (mg_per_l - bath.blank_or_zero()));
  return std::max(sigma, kLeastSigma);
}

Posterior make_posterior(LogModel& model, const BathFitOptions& options) {
  return PosteriorMaker(model, options).make();
}

Range weighted_range(std::vector<std::pair<double, double>> value_and_weight) {
  if (value_and_weight.empty()) {  // every second point of a posterior one point wide
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    return {none, none, none};
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
        return span > 0 ? previous + (value - previous) * (share - previous_share) / span : value;
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
