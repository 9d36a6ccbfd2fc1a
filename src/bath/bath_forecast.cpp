#include "aeruca/bath_forecast.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "aeruca/errors.hpp"

namespace aeruca {
namespace {

constexpr double kSecondsPerDay = 86400;

void above_zero(const char* parameter, double value) {
  if (!(value > 0)) throw InputError(parameter, value, "above 0");
}

std::vector<double> days_of(const BathForecastRequest& request) {
  const std::size_t baths = request.volumes_l.size();
  std::vector<double> days = request.days;
  if (days.size() == 1) days.resize(baths, days.front());
  if (days.size() == baths) return days;
  throw InputError("days", std::to_string(request.days.size()) + " values",
                   "one value, or as many as volumes_l (" + std::to_string(baths) + ")");
}

std::vector<BathStep> steps_of(const BathForecastRequest& request,
                               const std::vector<double>& days) {
  std::vector<BathStep> steps;
  for (std::size_t k = 0; k < days.size(); ++k) {
    const double volume = request.volumes_l[k];
    above_zero("volumes_l", volume);
    const double alpha = std::isnan(request.capacity_l) ? std::numeric_limits<double>::infinity()
                                                        : volume / request.capacity_l;
    steps.push_back({alpha, request.rate_per_day * days[k],
                     request.fill_mg_per_l * volume / request.load_mg,
                     k == 0 ? 0 : request.carry_over});
  }
  return steps;
}

}  // namespace

double diffusion_rate_per_day(double d_m2_per_s, double thickness_mm) {
  above_zero("d_m2_per_s", d_m2_per_s);
  above_zero("thickness_mm", thickness_mm);
  const double metres = thickness_mm * 1e-3;
  return kSecondsPerDay * d_m2_per_s / (metres * metres);
}

BathForecast forecast_baths(const BathForecastRequest& request) {
  above_zero("rate_per_day", request.rate_per_day);
  above_zero("load_mg", request.load_mg);
  const std::vector<double> days = days_of(request);
  if (!std::isnan(request.capacity_l)) above_zero("capacity_l", request.capacity_l);
  const std::vector<BathStep> steps = steps_of(request, days);
  const BathSeries series = bath_series(request.body, steps);
  BathForecast forecast{request.body, request.rate_per_day, request.load_mg, {}, 0, 0};
  forecast.truncation_error = series.truncation_error;
  // Rounding of the sums stays where the series is cut off further out.
  forecast.error_mg = std::max(series.truncation_error, 1e-14) * request.load_mg;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const BathPoint& end = series.ends[k];
    const double in_bath = end.in_bath * request.load_mg;
    forecast.baths.push_back({days[k], request.volumes_l[k], end.tau, steps[k].alpha,
                              in_bath / request.volumes_l[k], in_bath, end.left * request.load_mg,
                              end.left});
  }
  return forecast;
}

}  // namespace aeruca
