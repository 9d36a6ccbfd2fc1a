#include "aeruca/bath_fit.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "bath/diffusion_release.hpp"
#include "bath/fit_release.hpp"

namespace aeruca {
namespace {

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

}  // namespace

BathFit fit_bath_log(const BathLog& log, const BathFitOptions& options) {
  check(options);
  BathFit none;
  none.status = Status::infeasible;
  if (measured_count(log) < 3) {
    none.message =
        detail::say("bath.fit.too_few", {{"baths", std::to_string(measured_count(log))}});
    return none;
  }
  const detail::BathSequence sequence(log, options, 1);
  if (!(sequence.extracted_mg > 0)) {
    none.message = detail::say("bath.fit.nothing");
    return none;
  }
  detail::DiffusionRelease diffusion(sequence, options);
  return detail::fit_release(log, sequence, diffusion, options);
}

}  // namespace aeruca
