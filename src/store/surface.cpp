#include "store/surface.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "aeruca/water.hpp"

namespace aeruca {
namespace detail {

VapourRatio::VapourRatio(double cooler_c)
    : lowest_(std::max(kColdestSurface, kColdestSurface + cooler_c)),
      highest_(std::min(kWarmestSurface, kWarmestSurface + cooler_c)) {
  if (cooler_c == 0) return;
  const auto steps = static_cast<std::size_t>(std::ceil((highest_ - lowest_) * kPerDegree));
  for (std::size_t i = 0; i <= steps; ++i) {
    const double t = lowest_ + static_cast<double>(i) / kPerDegree;
    table_.push_back(saturation_pressure_pa(t) / saturation_pressure_pa(t - cooler_c));
  }
}

}  // namespace detail

double surface_rh_percent(double rh_percent, double temperature_c, double cooler_c) {
  if (std::isnan(rh_percent) || std::isnan(temperature_c) || std::isnan(cooler_c))
    return std::nan("");
  if (rh_percent < 0) throw InputError("rh_percent", rh_percent, "0 or more");
  const auto check = [](const char* name, double t) {
    if (t < detail::kColdestSurface || t > detail::kWarmestSurface)
      throw InputError(name, t, "0 to 60 degrees C");
  };
  check("temperature_c", temperature_c);
  check("temperature_c - cooler_c", temperature_c - cooler_c);
  if (cooler_c == 0) return rh_percent;
  return rh_percent * saturation_pressure_pa(temperature_c) /
         saturation_pressure_pa(temperature_c - cooler_c);
}

}  // namespace aeruca
