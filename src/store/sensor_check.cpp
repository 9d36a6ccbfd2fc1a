#include "aeruca/sensor_check.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

constexpr double kJarRhPercent = 0.5;
constexpr double kUnstatedRhPercent = 1;
constexpr double kReachBeyondRhPercent = 20;
constexpr double kReachBetweenRhPercent = 40;

double stated(double uncertainty) {
  return std::isnan(uncertainty) ? kUnstatedRhPercent : uncertainty;
}

// What is measured over the salt, or computed where nothing is.
void find_humidity(const Dataset& dataset, SensorCheck& check) {
  try {
    const MeasuredCurvePoint at =
        measured_humidity(dataset, dataset.salt(check.salt).solid, check.temperature_c);
    check.salt_rh_percent = at.rh_percent;
    check.salt_uncertainty_percent = stated(at.uncertainty_percent);
  } catch (const Error&) {
    const Deliquescence at = deliquescence(dataset, check.salt, check.temperature_c);
    if (std::isnan(at.rh_percent)) {
      throw InputError("check", check.salt,
                       "a salt whose humidity at " + detail::format_number(check.temperature_c) +
                           " degrees C is known (" + at.not_known_because + ")");
    }
    check.salt_rh_percent = at.rh_percent;
    check.salt_uncertainty_percent = stated(at.rh_uncertainty_percent);
  }
}

struct ErrorThere {
  double salt_rh;
  double error;
  double variance;
};

std::vector<ErrorThere> errors_of(const std::vector<SensorCheck>& checks) {
  std::vector<ErrorThere> errors;
  for (const SensorCheck& check : checks) {
    const double uncertainty = std::hypot(check.salt_uncertainty_percent, kJarRhPercent);
    errors.push_back({check.salt_rh_percent, check.salt_rh_percent - check.reading_rh_percent,
                      uncertainty * uncertainty});
  }
  std::sort(errors.begin(), errors.end(),
            [](const ErrorThere& a, const ErrorThere& b) { return a.salt_rh < b.salt_rh; });
  return errors;
}

// Several checks at one humidity count once, by their precision.
std::vector<ErrorThere> merged(const std::vector<ErrorThere>& errors) {
  std::vector<ErrorThere> places;
  for (const ErrorThere& e : errors) {
    if (places.empty() || e.salt_rh - places.back().salt_rh > 1) {
      places.push_back(e);
      continue;
    }
    ErrorThere& at = places.back();
    const double weight = at.variance / (at.variance + e.variance);
    at.error += weight * (e.error - at.error);
    at.salt_rh += weight * (e.salt_rh - at.salt_rh);
    at.variance *= 1 - weight;
  }
  return places;
}

SensorCorrection with_distance(double error, double variance, double share_of_accuracy) {
  return {error, std::sqrt(variance + share_of_accuracy * share_of_accuracy)};
}

[[noreturn]] void refuse_far(const ErrorThere& nearest, double rh_percent) {
  throw InputError("checks",
                   "the nearest at " + detail::format_number(nearest.salt_rh, 3) + " % RH",
                   "a check within 20 % RH of the limit of " +
                       detail::format_number(rh_percent, 3) + " % RH, or one on each side of it");
}

}  // namespace

SensorCheck sensor_check(const Dataset& dataset, std::string_view salt, double temperature_c,
                         double reading_rh_percent) {
  if (!(reading_rh_percent >= 0 && reading_rh_percent <= 110))
    throw InputError("reading_rh_percent", reading_rh_percent, "0 to 110 % RH");
  if (!(temperature_c >= 0 && temperature_c <= 50))
    throw InputError("temperature_c", temperature_c, "0 to 50 degrees C");
  SensorCheck check{std::string(salt), temperature_c, reading_rh_percent, 0, 0};
  find_humidity(dataset, check);
  return check;
}

SensorCorrection sensor_correction(const std::vector<SensorCheck>& checks, double rh_percent,
                                   double accuracy_rh_percent) {
  if (checks.empty()) throw InputError("checks", "none", "at least one check");
  const std::vector<ErrorThere> at = merged(errors_of(checks));
  const double accuracy = accuracy_rh_percent / std::sqrt(3.0);
  const auto right = std::find_if(at.begin(), at.end(),
                                  [&](const ErrorThere& e) { return e.salt_rh >= rh_percent; });
  if (right == at.begin() || right == at.end()) {
    const ErrorThere& nearest = right == at.end() ? at.back() : *right;
    const double distance = std::abs(nearest.salt_rh - rh_percent);
    if (distance > kReachBeyondRhPercent) refuse_far(nearest, rh_percent);
    return with_distance(nearest.error, nearest.variance,
                         accuracy * distance / kReachBeyondRhPercent);
  }
  const ErrorThere& low = *(right - 1);
  const double part = (rh_percent - low.salt_rh) / (right->salt_rh - low.salt_rh);
  const double distance = std::min(rh_percent - low.salt_rh, right->salt_rh - rh_percent);
  return with_distance(low.error + part * (right->error - low.error),
                       (1 - part) * (1 - part) * low.variance + part * part * right->variance,
                       accuracy * distance / kReachBetweenRhPercent);
}

}  // namespace aeruca
