#include "bath/fit_release.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include "aeruca/not_given.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/forecast.hpp"
#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr double kWeightless = 1e-8;  // points that cannot move a quantile
constexpr double kFitDoubted = 0.01;  // p value below which the model is refused

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
  return weighted_range(std::move(pairs));
}

// Infinite when the half grid caught no point: then the grid is too coarse to say.
double difference(const Range& a, const Range& b) {
  if (std::isnan(a.median) || std::isnan(b.median)) return std::numeric_limits<double>::infinity();
  return std::max({std::abs(a.low / b.low - 1), std::abs(a.median / b.median - 1),
                   std::abs(a.high / b.high - 1)});
}

// Median and range of a mixture of Gaussians: the next reading with the error of the instrument.
Range predictive(const BathSequence& sequence, const Posterior& posterior, std::size_t k,
                 const ReadingErrors& errors) {
  std::vector<std::array<double, 3>> parts;  // mean, sigma, weight
  double low = 0;
  double high = 0;
  for (const PosteriorPoint& point : posterior.points) {
    if (point.weight < 1e-7) continue;
    const double mean = expected_mg_per_l(sequence, posterior.release(point), point.load_mg, k);
    const double sigma = reading_sigma(sequence.baths[k], mean, errors);
    parts.push_back({mean, sigma, point.weight});
    low = std::min(low, mean - 6 * sigma);
    high = std::max(high, mean + 6 * sigma);
  }
  const auto below = [&](double reading) {
    double share = 0;
    for (const auto& [mean, sigma, weight] : parts) {
      share += weight * normal_below((reading - mean) / sigma);
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
  FitReport(const BathLog& log, const BathSequence& sequence, ReleaseModel& model,
            const BathFitOptions& options)
      : log_(log),
        sequence_(sequence),
        model_(model),
        posterior_(make_posterior(sequence, model, options)),
        options_(options) {}

  BathFit make() {
    goodness();
    if (fit_.p_value < kFitDoubted) return rejected();
    parameters();
    estimates();
    next_reading();
    convergence();
    priors();
    blanks();
    forecast(log_, options_, model_, posterior_, fit_);
    fit_.message = say("bath.fit.found", {{"load_mg", range_words(fit_.load_mg)},
                                          {"left_mg", range_words(fit_.left_mg)},
                                          {"share_percent", range_words(fit_.share_out_percent)}});
    return std::move(fit_);
  }

 private:
  // A model that the readings contradict has nothing to say of what is left: no range is given.
  BathFit rejected() {
    fit_.status = Status::infeasible;
    fit_.message = say("bath.fit.rejected", {{"model", model_word(model_)},
                                             {"p_value", format_number(fit_.p_value, 2)}});
    if (std::isnan(options_.stop_mg_per_l)) {
      fit_.forecast_reason = say("bath.forecast.not_asked");
    } else {
      fit_.forecast = ForecastKind::refused;
      fit_.forecast_reason = say("bath.forecast.no_model");
    }
    return std::move(fit_);
  }

  [[nodiscard]] double left(const PosteriorPoint& point) const {
    return posterior_.release(point).share_left(point.load_mg);
  }
  [[nodiscard]] double expected(const PosteriorPoint& point, std::size_t k) const {
    return expected_mg_per_l(sequence_, posterior_.release(point), point.load_mg, k);
  }

  void parameters() {
    const auto& named = model_.parameters();
    for (std::size_t i = 0; i < named.size(); ++i) {
      const Range range = range_of(
          posterior_, [&](const auto& p) { return parameter_value(model_, posterior_, p, i); });
      fit_.parameters.push_back({named[i].name, range, named[i].low, named[i].high});
    }
    fit_.partition_weights.assign(model_.alternatives().size(), 0.0);
    for (const PosteriorPoint& point : posterior_.points) {
      fit_.partition_weights[posterior_.alternative[point.release]] += point.weight;
    }
  }

  void estimates() {
    fit_.load_mg = fit_.parameters[0].range;
    fit_.rate_per_day = fit_.parameters[1].range;
    fit_.left_mg = range_of(posterior_, [&](const auto& p) { return p.load_mg * left(p); });
    fit_.share_out_percent =
        range_of(posterior_, [&](const auto& p) { return 100 * (1 - left(p)); });
    const double grams = options_.object_mass_g;
    fit_.left_mg_per_g = {fit_.left_mg.low / grams, fit_.left_mg.median / grams,
                          fit_.left_mg.high / grams};
    for (std::size_t k = 0; k < sequence_.logged; ++k) {
      fit_.readings_mg_per_l.push_back(
          range_of(posterior_, [&](const auto& p) { return expected(p, k); }));
    }
  }

  void next_reading() {
    const std::size_t next = sequence_.logged;
    fit_.next_volume_l = sequence_.baths[next].volume_l;
    fit_.next_days = sequence_.baths[next].days();
    fit_.stop_mg_per_l = options_.stop_mg_per_l;
    fit_.next_mean_mg_per_l =
        range_of(posterior_, [&](const auto& p) { return expected(p, next); });
    fit_.next_reading_mg_per_l = predictive(sequence_, posterior_, next, options_.errors);
  }

  void goodness() {
    const PosteriorPoint& best = posterior_.points[posterior_.best];
    std::vector<double> residuals;
    for (std::size_t k = 0; k < sequence_.logged; ++k) {
      const BathRecord& bath = sequence_.baths[k];
      if (bath.kind != ReadingKind::measured) continue;
      const double mean = expected(best, k);
      residuals.push_back((bath.chloride_mg_per_l - mean) /
                          reading_sigma(bath, mean, options_.errors));
      fit_.chi_squared += residuals.back() * residuals.back();
    }
    fit_.degrees_of_freedom = static_cast<int>(residuals.size()) - 2;
    fit_.p_value = kNotGiven;
    if (fit_.degrees_of_freedom < 1) return;
    const boost::math::chi_squared distribution(fit_.degrees_of_freedom);
    fit_.p_value =
        boost::math::cdf(boost::math::complement(distribution, std::min(fit_.chi_squared, 1e300)));
    if (fit_.p_value < kFitDoubted) {
      fit_.warnings.push_back(
          say("bath.warning.no_fit",
              {{"model", model_word(model_)}, {"p_value", format_number(fit_.p_value, 2)}}));
    }
    const std::size_t n = residuals.size();
    const double late = (residuals[n - 1] + residuals[n - 2] + residuals[n - 3]) / std::sqrt(3.0);
    if (n >= 5 && late > 2.5) {
      fit_.warnings.push_back(say("bath.warning.late_readings"));
    }
  }

  void convergence() {
    const auto compare = [&](const PointValue& value) {
      fit_.convergence = std::max(fit_.convergence, difference(range_of(posterior_, value, 2),
                                                               range_of(posterior_, value)));
    };
    compare([](const auto& p) { return p.load_mg; });
    compare([](const auto& p) { return p.rate; });
    compare([&](const auto& p) { return p.load_mg * left(p); });
    if (fit_.convergence > 0.10) {
      fit_.warnings.push_back(say("bath.warning.rough_quadrature",
                                  {{"percent", format_number(100 * fit_.convergence, 2)}}));
    }
  }

  // Near either end of the rates, or the upper end of the loads: there the prior decides.
  void priors() {
    const ReleaseParameter& loads = model_.parameters()[0];
    const ReleaseParameter& rates = model_.parameters()[1];
    const double load_edge = 0.05 * std::log(loads.high / loads.low);
    const double rate_edge = 0.05 * std::log(rates.high / rates.low);
    for (const PosteriorPoint& point : posterior_.points) {
      if (std::log(loads.high / point.load_mg) < load_edge ||
          std::log(point.rate / rates.low) < rate_edge ||
          std::log(rates.high / point.rate) < rate_edge) {
        fit_.prior_edge += point.weight;
      }
    }
    if (fit_.prior_edge > 0.05) {
      fit_.warnings.push_back(say("bath.warning.prior_decides"));
    }
  }

  // Without a blank the chloride of the fresh baths is taken for the object's.
  void blanks() {
    const auto unknown =
        std::count_if(log_.baths.begin(), log_.baths.end(), [](const BathRecord& bath) {
          return bath.kind == ReadingKind::measured && std::isnan(bath.blank_mg_per_l);
        });
    if (unknown == 0) return;
    fit_.warnings.push_back(
        say("bath.warning.no_blank_load", {{"baths", std::to_string(unknown)}}));
  }

  const BathLog& log_;
  const BathSequence& sequence_;
  ReleaseModel& model_;
  Posterior posterior_;
  const BathFitOptions& options_;
  BathFit fit_;
};

}  // namespace

BathFit fit_release(const BathLog& log, const BathSequence& sequence, ReleaseModel& model,
                    const BathFitOptions& options) {
  return FitReport(log, sequence, model, options).make();
}

}  // namespace aeruca::detail
