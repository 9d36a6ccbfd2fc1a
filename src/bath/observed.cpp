#include "bath/observed.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/water.hpp"

namespace aeruca::detail {
namespace {

constexpr double kKelvin = 273.15;

// A limit is about 3.3 standard deviations of the blank (IUPAC's rule for detection).
double floor_of(const BathRecord& bath, const ReadingErrors& errors) {
  if (errors.absolute_mg_per_l > 0) return errors.absolute_mg_per_l;
  return std::isnan(bath.detection_limit_mg_per_l) ? 0 : bath.detection_limit_mg_per_l / 3.3;
}

}  // namespace

std::size_t ObservedTreatment::measured() const {
  return static_cast<std::size_t>(std::count_if(observations.begin(), observations.end(),
                                                [](const Observation& o) { return o.measured(); }));
}

std::size_t ObservedTreatment::bounded_below() const {
  return static_cast<std::size_t>(
      std::count_if(observations.begin(), observations.end(),
                    [](const Observation& o) { return o.low_mg_per_l > 0; }));
}

double diffusion_speed(double temperature_c, double reference_c) {
  const auto mobility = [](double c) { return (c + kKelvin) / viscosity_pa_s(c); };
  return mobility(temperature_c) / mobility(reference_c);
}

ObservedTreatment observe(const BathLog& log, const ReadingErrors& errors) {
  ObservedTreatment treatment;
  treatment.volume_relative = errors.volume_relative;
  double reference = kNotGiven;
  for (std::size_t k = 0; k < log.baths.size(); ++k) {
    const BathRecord& bath = log.baths[k];
    ObservedStep step{bath.volume_l, bath.days(), bath.blank_or_zero() * bath.volume_l, 0, k};
    if (!std::isnan(bath.temperature_c)) {
      if (std::isnan(reference)) reference = bath.temperature_c;
      step.days *= diffusion_speed(bath.temperature_c, reference);
    }
    treatment.steps.push_back(step);
    if (bath.kind == ReadingKind::not_measured) continue;
    Observation reading;
    reading.step = k;
    reading.error_mg_per_l = bath.error_mg_per_l;
    reading.floor_mg_per_l = floor_of(bath, errors);
    const bool below = bath.kind == ReadingKind::below_detection;
    reading.low_mg_per_l = below ? 0 : bath.chloride_mg_per_l;
    const bool between = bath.kind == ReadingKind::between;
    reading.high_mg_per_l = between ? bath.at_most_mg_per_l : bath.chloride_mg_per_l;
    if (!below && !between && std::isnan(bath.error_mg_per_l)) treatment.scatter_unknown = true;
    treatment.observations.push_back(reading);
  }
  return treatment;
}

}  // namespace aeruca::detail
