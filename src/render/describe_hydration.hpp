#pragma once

// Changes of hydration, described once.

#include <cmath>
#include <string>

#include "aeruca/hydration.hpp"
#include "base/text.hpp"
#include "render/describe_brine.hpp"

namespace aeruca::detail {

template <>
struct Description<HydrationChange> {
  static constexpr std::string_view name = "HydrationChange";
  static constexpr std::string_view meaning =
      "Humidity below which a hydrate gives up water to become another.";
  using H = HydrationChange;
  template <class Take>
  static void figures(Take take) {
    take("upper", &H::upper, "", "in moister air", at_a_glance);
    take("lower", &H::lower, "", "in drier air", at_a_glance);
    take("temperature_c", &H::temperature_c, "degrees C", "temperature", at_a_glance);
    take("waters", &H::waters, "", "waters given up per formula");
    take("rh_percent", &H::rh_percent, "% RH", "computed", at_a_glance);
    take("rh_uncertainty_percent", &H::rh_uncertainty_percent, "% RH", "its standard uncertainty",
         digits(2), at_a_glance);
    take("not_known_because", &H::not_known_because, "", "not known because");
    take("measured", &H::measured, "", "measured, the best first");
  }
  static std::string said(const H& change) {
    const std::string pair = change.upper + " over " + change.lower;
    if (std::isnan(change.rh_percent)) return pair + ", not known: " + change.not_known_because;
    return pair + ", " + with_uncertainty(change.rh_percent, change.rh_uncertainty_percent, 1) +
           " % RH at " + format_number(change.temperature_c) + " degrees C";
  }
};

}  // namespace aeruca::detail
