// Any bytes as a bath log: a log that holds what its header promises and can be summed up, or our
// own error.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "aeruca/bath_fit.hpp"
#include "demand.hpp"

namespace {

void check(const aeruca::BathLog& log) {
  demand(!log.baths.empty());
  double before = -1e300;
  for (const aeruca::BathRecord& bath : log.baths) {
    demand(bath.start_day >= before && bath.end_day > bath.start_day);
    before = bath.end_day;
    demand(bath.volume_l > 0 && bath.dilution >= 1 && !(bath.blank_mg_per_l < 0));
    const bool measured = bath.kind != aeruca::ReadingKind::not_measured;
    demand(measured ? bath.chloride_mg_per_l >= 0 : std::isnan(bath.chloride_mg_per_l));
  }
  const aeruca::BathSummary summary = aeruca::summarise_bath_log(log, 100);
  demand(summary.baths.size() == log.baths.size());
  demand(std::isfinite(summary.total_mg) && summary.total_error_mg >= 0);
}

// A fit of a whole log takes too long for every input; a short one must end in an answer or a
// status.
void check_fit(const aeruca::BathLog& log) {
  if (log.baths.size() > 6) return;
  aeruca::BathFitOptions options;
  options.alphas = {30};
  options.grid = 16;
  const aeruca::BathFit fit = aeruca::fit_bath_log(log, options);
  if (fit.status != aeruca::Status::converged) return;
  demand(fit.load_mg.low <= fit.load_mg.median && fit.load_mg.median <= fit.load_mg.high);
  demand(fit.left_mg.low >= -1e-9 * fit.load_mg.high);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(data, size, [](std::string_view text) {
    const aeruca::BathLog log = aeruca::parse_bath_log(text, "fuzz");
    check(log);
    check_fit(log);
  });
}
