#pragma once

// How well a release agrees with what was read; the model of the readings in
// aeruca/bath_posterior.hpp.

#include <vector>

#include "bath/observed.hpp"
#include "bath/release_bodies.hpp"

namespace aeruca::detail {

/// mg/L expected at the end of a step.
[[nodiscard]] double expected_mg_per_l(const ObservedStep& step, const UnitRelease& release,
                                       std::size_t k, double load_mg);

/// Standard error of a reading when `mg_per_l` is expected, volume counted.
[[nodiscard]] double reading_sigma(const ObservedTreatment& treatment, const Observation& reading,
                                   double mg_per_l, double scatter);

/// ln of the likelihood of all readings.
[[nodiscard]] double log_likelihood(const ObservedTreatment& treatment, const UnitRelease& release,
                                    double load_mg, double scatter);

/// The likelihood over the load, by the trapezoidal rule where it is not nothing.
struct LoadGrid {
  double log_first = 0;             ///< ln of the first load
  double step = 0;                  ///< of ln load
  std::vector<double> log_density;  ///< likelihood x prior density of ln load
  double log_integral = 0;
};
[[nodiscard]] LoadGrid integrate_load(const ObservedTreatment& treatment,
                                      const UnitRelease& release, double scatter,
                                      const LogNormalPrior& prior, double first_volume_l);

/// How far the readings lie from what was expected: the sum over them of -2 ln of their density over
/// its highest value. Larger than `misfit_p_value` allows: the model is not theirs.
[[nodiscard]] double misfit(const ObservedTreatment& treatment, const UnitRelease& release,
                            double load_mg, double scatter);

/// Probability of so large a misfit for `measured` readings and `fitted` unknowns, from seeded
/// draws of the model of the readings; NaN with no degree of freedom left.
[[nodiscard]] double misfit_p_value(double misfit, std::size_t measured, std::size_t fitted);

}  // namespace aeruca::detail
