#include "bath/inference_options.hpp"

#include <cmath>
#include <string>
#include <utility>

#include "aeruca/errors.hpp"

namespace aeruca::detail {
namespace {

void check(const BathInferenceOptions& options) {
  const auto positive = [](const char* name, double value) {
    if (!std::isnan(value) && !(value > 0 && std::isfinite(value)))
      throw InputError(name, value, "above 0");
  };
  positive("object_mass_g", options.object_mass_g);
  positive("object_area_cm2", options.object_area_cm2);
  if (options.draws < 200 || options.draws > 20'000)
    throw InputError("draws", static_cast<double>(options.draws), "200 to 20 000");
  const BathPriors& p = options.priors;
  for (const auto& [name, prior] : {std::pair{"rate_per_day", p.rate_per_day},
                                    {"load_mg_per_first_litre", p.load_mg_per_first_litre},
                                    {"first_alpha", p.first_alpha},
                                    {"biot", p.biot},
                                    {"spread", p.spread},
                                    {"slow_odds", p.slow_odds},
                                    {"slowness", p.slowness},
                                    {"solid_over_dissolved", p.solid_over_dissolved},
                                    {"scatter", p.scatter}}) {
    if (!(prior.median > 0 && std::isfinite(prior.median)))
      throw InputError(std::string(name) + " median", prior.median, "above 0");
    if (!(prior.factor > 1 && std::isfinite(prior.factor)))
      throw InputError(std::string(name) + " factor", prior.factor, "above 1");
  }
}

}  // namespace

// The usual size of an error may be told in two ways, but not in two sizes.
BathInferenceOptions settled(BathInferenceOptions options) {
  const double told = options.errors.relative;
  double& median = options.priors.scatter.median;
  if (told != ReadingErrors{}.relative && told != median) {
    if (median != BathPriors{}.scatter.median)
      throw InputError("errors.relative", told,
                       "the median of priors.scatter, or one of them alone");
    median = told;
  }
  check(options);
  return options;
}

}  // namespace aeruca::detail
