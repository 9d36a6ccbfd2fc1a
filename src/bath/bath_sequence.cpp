#include "bath/bath_sequence.hpp"

#include <cmath>

namespace aeruca::detail {

BathSequence::BathSequence(const BathLog& log, const BathFitOptions& options, std::size_t future)
    : baths(log.baths), logged(log.baths.size()) {
  for (const BathRecord& bath : log.baths) {
    mean_volume_l += bath.volume_l / static_cast<double>(logged);
    total_days += bath.days();
    if (bath.kind == ReadingKind::measured) {
      extracted_mg += (bath.chloride_mg_per_l - bath.blank_or_zero()) * bath.volume_l;
    }
  }
  BathRecord next = log.baths.back();
  const double days = std::isnan(options.next_days) ? next.days() : options.next_days;
  next.start_day = next.end_day;
  next.end_day += days;
  if (!std::isnan(options.next_volume_l)) next.volume_l = options.next_volume_l;
  baths.insert(baths.end(), future, next);
}

}  // namespace aeruca::detail
