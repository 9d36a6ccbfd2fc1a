#pragma once

// The baths of a log, and those to come.

#include <vector>

#include "aeruca/bath_fit.hpp"

namespace aeruca::detail {

/// Baths of the log, then `future` baths like the next one.
struct BathSequence {
  BathSequence(const BathLog& log, const BathFitOptions& options, std::size_t future);

  std::vector<BathRecord> baths;  ///< with those to come
  std::size_t logged = 0;
  double total_days = 0;     ///< of the logged ones
  double mean_volume_l = 0;  ///< of the logged ones
  double extracted_mg = 0;   ///< measured
};

}  // namespace aeruca::detail
