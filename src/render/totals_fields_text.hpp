#pragma once

// Fields at fixed totals as text and as JSON.

#include <string>

#include "aeruca/totals_fields.hpp"

namespace aeruca::detail {

std::string totals_fields_text(const TotalsFieldDiagram& diagram);
std::string totals_fields_json(const TotalsFieldDiagram& diagram);

}  // namespace aeruca::detail
