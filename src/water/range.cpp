#include "water/range.hpp"

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {

void require_range(const char* parameter, double value, double low, double high, const char* unit) {
  if (value < low || value > high) {
    throw InputError(parameter, value,
                     format_number(low) + " to " + format_number(high) + " " + unit);
  }
}

}  // namespace aeruca::detail
