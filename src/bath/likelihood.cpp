#include "bath/likelihood.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <random>

#include "numerics/normal.hpp"

namespace aeruca::detail {
namespace {

constexpr double kOff = 0.03;  // share of readings that are off
constexpr double kOffBy = 4;   // times their standard error
constexpr double kLeastSigma = 1e-9;
constexpr double kReach = 6;       // standard deviations of ln load that the grid covers
constexpr std::size_t kFine = 17;  // points of the grid about a peak
constexpr std::size_t kWide = 48;  // points over all that was held possible

// Density over its highest value, as a function of the number of standard errors.
double relative_density(double z) {
  return ((1 - kOff) * std::exp(-0.5 * z * z) +
          kOff / kOffBy * std::exp(-0.5 * z * z / (kOffBy * kOffBy))) /
         (1 - kOff + kOff / kOffBy);
}

double below(double z) {
  return (1 - kOff) * normal_below(z) + kOff * normal_below(z / kOffBy);
}

// Both differences are taken where neither is near 1.
double between(double low, double high) {
  if (low > 0) return below(-low) - (std::isinf(high) ? 0 : below(-high));
  return (std::isinf(high) ? 1 : below(high)) - (std::isinf(low) ? 0 : below(low));
}

double log_density(const ObservedTreatment& treatment, const Observation& reading, double mean,
                   double scatter) {
  const double sigma = reading_sigma(treatment, reading, mean, scatter);
  if (reading.measured()) {
    const double z = (reading.low_mg_per_l - mean) / sigma;
    constexpr double kPeak =
        (1 - kOff + kOff / kOffBy) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
    return std::log(std::max(relative_density(z), 1e-300) * kPeak / sigma);
  }
  const double low = reading.low_mg_per_l <= 0 ? -std::numeric_limits<double>::infinity()
                                               : (reading.low_mg_per_l - mean) / sigma;
  return std::log(std::max(between(low, (reading.high_mg_per_l - mean) / sigma), 1e-300));
}

// Where ln load peaks and how sharply, from readings that bound it on both sides; 0 without any.
struct Peak {
  double load_mg = 0;
  double spread = 0;  // of ln load
};

Peak peak_of(const ObservedTreatment& treatment, const UnitRelease& release, double scatter) {
  double numerator = 0;
  double denominator = 0;
  for (const Observation& reading : treatment.observations) {
    if (!(reading.low_mg_per_l > 0) || std::isinf(reading.high_mg_per_l)) continue;
    const ObservedStep& step = treatment.steps[reading.step];
    const double middle = 0.5 * (reading.low_mg_per_l + reading.high_mg_per_l);
    const double width = reading.high_mg_per_l - reading.low_mg_per_l;
    const double sigma =
        std::hypot(reading_sigma(treatment, reading, middle, scatter), width / std::sqrt(12.0));
    const double gain = release.in_bath[reading.step] / step.volume_l;
    const double fill = release.fill_mg[reading.step] / step.volume_l;
    numerator += gain * (middle - fill) / (sigma * sigma);
    denominator += gain * gain / (sigma * sigma);
  }
  if (!(denominator > 0) || !(numerator > 0)) return {};
  const double load = numerator / denominator;
  return {load, 1 / (load * std::sqrt(denominator))};
}

}  // namespace

double expected_mg_per_l(const ObservedStep& step, const UnitRelease& release, std::size_t k,
                         double load_mg) {
  return (load_mg * release.in_bath[k] + release.fill_mg[k]) / step.volume_l;
}

double reading_sigma(const ObservedTreatment& treatment, const Observation& reading,
                     double mg_per_l, double scatter) {
  const double own = std::isnan(reading.error_mg_per_l)
                         ? std::hypot(scatter * mg_per_l, reading.floor_mg_per_l)
                         : reading.error_mg_per_l;
  return std::max(std::hypot(own, treatment.volume_relative * mg_per_l), kLeastSigma);
}

double log_likelihood(const ObservedTreatment& treatment, const UnitRelease& release,
                      double load_mg, double scatter) {
  double sum = 0;
  for (const Observation& reading : treatment.observations) {
    const double mean =
        expected_mg_per_l(treatment.steps[reading.step], release, reading.step, load_mg);
    sum += log_density(treatment, reading, mean, scatter);
  }
  return sum;
}

LoadGrid integrate_load(const ObservedTreatment& treatment, const UnitRelease& release,
                        double scatter, const LogNormalPrior& prior, double first_volume_l) {
  const double middle = std::log(prior.median * first_volume_l);
  const double width = std::log(prior.factor);
  const auto scan = [&](double first, double last, std::size_t points) {
    LoadGrid grid;
    grid.log_first = first;
    grid.step = (last - first) / static_cast<double>(points - 1);
    double top = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < points; ++i) {
      const double log_load = first + grid.step * static_cast<double>(i);
      const double z = (log_load - middle) / width;
      grid.log_density.push_back(log_likelihood(treatment, release, std::exp(log_load), scatter) -
                                 0.5 * z * z - std::log(width * std::sqrt(2 * std::numbers::pi)));
      top = std::max(top, grid.log_density.back());
    }
    double sum = 0;
    for (const double density : grid.log_density) sum += std::exp(density - top);
    grid.log_integral = top + std::log(sum * grid.step);
    return grid;
  };
  const Peak peak = peak_of(treatment, release, scatter);
  const double reach = kReach * std::clamp(peak.spread, 1e-4, width);
  if (peak.load_mg == 0 || peak.spread > 0.5)
    return scan(middle - kReach * width, middle + kReach * width, kWide);
  const double at = std::log(peak.load_mg);
  return scan(at - reach, at + reach, kFine);
}

double misfit(const ObservedTreatment& treatment, const UnitRelease& release, double load_mg,
              double scatter) {
  double sum = 0;
  for (const Observation& reading : treatment.observations) {
    const ObservedStep& step = treatment.steps[reading.step];
    const double mean = expected_mg_per_l(step, release, reading.step, load_mg);
    if (reading.measured()) {
      const double z =
          (reading.low_mg_per_l - mean) / reading_sigma(treatment, reading, mean, scatter);
      sum -= 2 * std::log(std::max(relative_density(z), 1e-300));
    } else {
      // Half where the limit itself is expected: only what is less likely than that counts.
      sum -= 2 * std::min(0.0, log_density(treatment, reading, mean, scatter) + std::log(2.0));
    }
  }
  return sum;
}

double misfit_p_value(double misfit, std::size_t measured, std::size_t fitted) {
  if (measured <= fitted) return kNotGiven;
  const std::size_t freedom = measured - fitted;
  constexpr std::size_t kDraws = 4000;
  static std::mutex guard;
  static std::map<std::size_t, std::vector<double>> tables;
  const std::lock_guard lock(guard);
  std::vector<double>& table = tables[freedom];
  if (table.empty()) {
    std::mt19937_64 random(freedom);
    const auto even = [&] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
    for (std::size_t draw = 0; draw < kDraws; ++draw) {
      double sum = 0;
      for (std::size_t i = 0; i < freedom; ++i) {
        const double scale = even() < kOff ? kOffBy : 1;
        sum -= 2 * std::log(std::max(relative_density(scale * normal_quantile(even())), 1e-300));
      }
      table.push_back(sum);
    }
    std::sort(table.begin(), table.end());
  }
  const auto above = table.end() - std::lower_bound(table.begin(), table.end(), misfit);
  return (static_cast<double>(above) + 0.5) / (kDraws + 1.0);
}

}  // namespace aeruca::detail
