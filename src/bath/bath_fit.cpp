#include "aeruca/bath_fit.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <utility>

#include "base/text.hpp"
#include "bath/fit_posterior.hpp"
#include "bath/forecast.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::LogModel;
using detail::Posterior;
using detail::PosteriorPoint;

constexpr double kNotKnown = std::numeric_limits<double>::quiet_NaN();
constexpr double kWeightless = 1e-8;  // points that cannot move a quantile
constexpr double kFitDoubted = 0.01;  // p value below which the model is refused

void check(const BathFitOptions& options) {
  const auto above_zero = [](const char* name, double value) {
    if (!std::isnan(value) && !(value > 0 && std::isfinite(value)))
      throw InputError(name, value, "above 0");
  };
  if (options.alphas.empty()) throw InputError("alphas", "none", "one value or more, each above 0");
  for (const double alpha : options.alphas) {
    if (!(alpha > 0)) throw InputError("alphas", alpha, "above 0, infinity for a perfect sink");
  }
  above_zero("object_mass_g", options.object_mass_g);
  above_zero("next_volume_l", options.next_volume_l);
  above_zero("next_days", options.next_days);
  above_zero("stop_mg_per_l", options.stop_mg_per_l);
  if (!(options.errors.relative >= 0 && options.errors.relative < 1)) {
    throw InputError("relative", options.errors.relative, "0 to below 1");
  }
  if (!(options.errors.absolute_mg_per_l >= 0)) {
    throw InputError("absolute_mg_per_l", options.errors.absolute_mg_per_l, "0 or more");
  }
  if (!(options.load_factor_max > 1))
    throw InputError("load_factor_max", options.load_factor_max, "above 1");
  if (!(options.total_tau_min > 0 && options.total_tau_min < options.total_tau_max &&
        options.total_tau_max <= 1e3)) {
    throw InputError("total_tau_min", options.total_tau_min, "above 0 and below total_tau_max");
  }
  if (options.grid < 8 || options.grid > 2000) {
    throw InputError("grid", static_cast<double>(options.grid), "8 to 2000");
  }
}

std::size_t measured_count(const BathLog& log) {
  return static_cast<std::size_t>(
      std::count_if(log.baths.begin(), log.baths.end(),
                    [](const BathRecord& bath) { return bath.kind == ReadingKind::measured; }));
}

using PointValue = std::function<double(const PosteriorPoint&)>;

// `stride` 2 takes every second point both ways, to see how much the grid matters.
Range range_of(const Posterior& posterior, const PointValue& value, std::size_t stride = 1) {
  std::vector<std::pair<double, double>> pairs;
  pairs.reserve(posterior.points.size());
  for (const PosteriorPoint& point : posterior.points) {
    if (point.weight < kWeightless || point.rate_index % stride != 0 ||
        point.load_index % stride != 0)
      continue;
    pairs.emplace_back(value(point), point.weight);
  }
  return detail::weighted_range(std::move(pairs));
}

// Infinite when the half grid caught no point: then the grid is too coarse to say.
double difference(const Range& a, const Range& b) {
  if (std::isnan(a.median) || std::isnan(b.median)) return std::numeric_limits<double>::infinity();
  return std::max({std::abs(a.low / b.low - 1), std::abs(a.median / b.median - 1),
                   std::abs(a.high / b.high - 1)});
}

// Median and range of a mixture of Gaussians: the next reading with the error of the instrument.
Range predictive(const LogModel& model, const Posterior& posterior, std::size_t k,
                 const ReadingErrors& errors) {
  std::vector<std::array<double, 3>> parts;  // mean, sigma, weight
  double low = 0;
  double high = 0;
  for (const PosteriorPoint& point : posterior.points) {
    if (point.weight < 1e-7) continue;
    const double mean =
        detail::expected_mg_per_l(model, posterior.responses[point.response], point.load_mg, k);
    const double sigma = detail::reading_sigma(model.baths[k], mean, errors);
    parts.push_back({mean, sigma, point.weight});
    low = std::min(low, mean - 6 * sigma);
    high = std::max(high, mean + 6 * sigma);
  }
  const auto below = [&](double reading) {
    double share = 0;
    for (const auto& [mean, sigma, weight] : parts) {
      share += weight * 0.5 * std::erfc((mean - reading) / (sigma * std::numbers::sqrt2));
    }
    return share;
  };
  const auto quantile = [&](double share) {
    std::uintmax_t steps = 60;
    const auto bracket = boost::math::tools::toms748_solve(
        [&](double reading) { return below(reading) - share; }, low, high,
        boost::math::tools::eps_tolerance<double>(14), steps);
    return std::max(0.0, 0.5 * (bracket.first + bracket.second));
  };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

class FitReport {
 public:
  FitReport(const BathLog& log, const LogModel& model, const Posterior& posterior,
            const BathFitOptions& options)
      : log_(log), model_(model), posterior_(posterior), options_(options) {}

  BathFit make() {
    goodness();
    if (fit_.p_value < kFitDoubted) return rejected();
    estimates();
    next_reading();
    convergence();
    priors();
    detail::forecast(log_, options_, posterior_, fit_);
    fit_.message = "load " + detail::range_words(fit_.load_mg, "mg") + ", still inside " +
                   detail::range_words(fit_.left_mg, "mg") + ", share out " +
                   detail::range_words(fit_.share_out_percent, "%") +
                   " (median and 5-95 %, of what this treatment can extract)";
    return std::move(fit_);
  }

 private:
  // A model that the readings contradict has nothing to say of what is left: no range is given.
  BathFit rejected() {
    fit_.status = Status::infeasible;
    fit_.message =
        "the diffusion model does not fit these baths (p = " + format_number(fit_.p_value, 2) +
        "), so no range is given for what is inside, for the next reading or for an end";
    if (std::isnan(options_.stop_mg_per_l)) {
      fit_.forecast_reason = "no stop level was given, so no end date is asked for";
    } else {
      fit_.forecast = ForecastKind::refused;
      fit_.forecast_reason = "no end date: the model does not fit the readings";
    }
    return std::move(fit_);
  }

  [[nodiscard]] double left(const PosteriorPoint& point) const {
    return posterior_.responses[point.response].left;
  }
  [[nodiscard]] double expected(const PosteriorPoint& point, std::size_t k) const {
    return detail::expected_mg_per_l(model_, posterior_.responses[point.response], point.load_mg,
                                     k);
  }

  void estimates() {
    fit_.load_mg = range_of(posterior_, [](const auto& p) { return p.load_mg; });
    fit_.rate_per_day = range_of(posterior_, [](const auto& p) { return p.rate_per_day; });
    fit_.left_mg = range_of(posterior_, [&](const auto& p) { return p.load_mg * left(p); });
    fit_.share_out_percent =
        range_of(posterior_, [&](const auto& p) { return 100 * (1 - left(p)); });
    const double grams = options_.object_mass_g;
    fit_.left_mg_per_g = {fit_.left_mg.low / grams, fit_.left_mg.median / grams,
                          fit_.left_mg.high / grams};
    for (std::size_t k = 0; k < model_.logged; ++k) {
      fit_.readings_mg_per_l.push_back(
          range_of(posterior_, [&](const auto& p) { return expected(p, k); }));
    }
    fit_.partition_weights.assign(options_.alphas.size(), 0.0);
    for (const PosteriorPoint& point : posterior_.points) {
      fit_.partition_weights[posterior_.partition[point.response]] += point.weight;
    }
  }

  void next_reading() {
    const std::size_t next = model_.logged;
    fit_.next_volume_l = model_.baths[next].volume_l;
    fit_.next_days = model_.baths[next].days();
    fit_.next_mean_mg_per_l =
        range_of(posterior_, [&](const auto& p) { return expected(p, next); });
    fit_.next_reading_mg_per_l = predictive(model_, posterior_, next, options_.errors);
  }

  void goodness() {
    const PosteriorPoint& best = posterior_.points[posterior_.best];
    std::vector<double> residuals;
    for (std::size_t k = 0; k < model_.logged; ++k) {
      const BathRecord& bath = model_.baths[k];
      if (bath.kind != ReadingKind::measured) continue;
      const double mean = expected(best, k);
      residuals.push_back((bath.chloride_mg_per_l - mean) /
                          detail::reading_sigma(bath, mean, options_.errors));
      fit_.chi_squared += residuals.back() * residuals.back();
    }
    fit_.degrees_of_freedom = static_cast<int>(residuals.size()) - 2;
    fit_.p_value = kNotKnown;
    if (fit_.degrees_of_freedom < 1) return;
    const boost::math::chi_squared distribution(fit_.degrees_of_freedom);
    fit_.p_value =
        boost::math::cdf(boost::math::complement(distribution, std::min(fit_.chi_squared, 1e300)));
    if (fit_.p_value < kFitDoubted) {
      fit_.warnings.push_back(
          "the diffusion model does not fit (p = " + format_number(fit_.p_value, 2) +
          "): a solid reserve, a layer lost, changed chemistry or errors stated too small");
    }
    const std::size_t n = residuals.size();
    const double late = (residuals[n - 1] + residuals[n - 2] + residuals[n - 3]) / std::sqrt(3.0);
    if (n >= 5 && late > 2.5) {
      fit_.warnings.emplace_back(
          "the last readings lie above the model: a solid reserve or a second, slower store of "
          "chloride");
    }
  }

  void convergence() {
    const auto compare = [&](const PointValue& value) {
      fit_.convergence = std::max(fit_.convergence, difference(range_of(posterior_, value, 2),
                                                               range_of(posterior_, value)));
    };
    compare([](const auto& p) { return p.load_mg; });
    compare([](const auto& p) { return p.rate_per_day; });
    compare([&](const auto& p) { return p.load_mg * left(p); });
    if (fit_.convergence > 0.10) {
      fit_.warnings.push_back("the quadrature is rough: quantiles move by " +
                              format_number(100 * fit_.convergence, 2) + " % on half the grid");
    }
  }

  void priors() {
    const double load_edge = 0.05 * (posterior_.log_load_high - posterior_.log_load_low);
    const double rate_edge = 0.05 * (posterior_.log_rate_high - posterior_.log_rate_low);
    for (const PosteriorPoint& point : posterior_.points) {
      const double load = std::log(point.load_mg);
      const double rate = std::log(point.rate_per_day);
      if (load > posterior_.log_load_high - load_edge ||
          rate < posterior_.log_rate_low + rate_edge ||
          rate > posterior_.log_rate_high - rate_edge) {
        fit_.prior_edge += point.weight;
      }
    }
    if (fit_.prior_edge > 0.05) {
      fit_.warnings.emplace_back(
          "the readings set no upper limit to the load: the range shown ends where the prior ends");
    }
  }

  const BathLog& log_;
  const LogModel& model_;
  const Posterior& posterior_;
  const BathFitOptions& options_;
  BathFit fit_;
};

}  // namespace

BathFit fit_bath_log(const BathLog& log, const BathFitOptions& options) {
  check(options);
  BathFit none;
  none.status = Status::infeasible;
  if (measured_count(log) < 3) {
    none.message = "a fit needs three measured baths above the detection limit; the log has " +
                   std::to_string(measured_count(log));
    return none;
  }
  LogModel model(log, options, 1);
  if (!(model.extracted_mg > 0)) {
    none.message =
        "the measured baths hold no more chloride than their blanks; there is nothing to fit";
    return none;
  }
  return FitReport(log, model, detail::make_posterior(model, options), options).make();
}

}  // namespace aeruca
