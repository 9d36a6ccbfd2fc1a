#pragma once

// The page of the tool about rinsing.

#include <string>

#include "aeruca/bath_rinse.hpp"

namespace aeruca::detail {

/// What was counted in the pores.
enum class RinsedOf { chloride, sodium };

[[nodiscard]] std::string rinse_text(const RinseResult& result, double rinse_l, RinsedOf counted);

}  // namespace aeruca::detail
