#include "store/enclosure_checks.hpp"

#include <cmath>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

constexpr double kColdest = 0, kWarmest = 50;  // degrees C

void check(const char* parameter, double value, double low, double high,
           const std::string& accepted) {
  if (value >= low && value <= high) return;
  throw InputError(parameter, value, accepted);
}

std::string range_of(const GelRange& gel) {
  return say("enclosure.isotherm_range", {{"low", format_number(gel.low_rh_percent)},
                                          {"high", format_number(gel.high_rh_percent)}});
}

void check_climate(const Climate& climate, double days) {
  if (!std::isnan(climate.inside_temperature_c))
    check("inside_temperature_c", climate.inside_temperature_c, kColdest, kWarmest,
          "0 to 50 degrees C");
  if (climate.constant()) return;
  const double known = climate.until_days.empty() ? 0 : climate.until_days.back();
  if (days > known * (1 + 1e-9))
    throw InputError("days", days,
                     "at most the " + format_number(known, 4) + " days of the record outside");
}

void check_spreads(const EnclosureOptions& options) {
  check("exchange_relative_sd", options.exchange_relative_sd, 0, 2, "0 to 2");
  check("outside_rh_sd", options.outside_rh_sd, 0, 20, "0 to 20 % RH");
  check("start_rh_sd", options.start_rh_sd, 0, 20, "0 to 20 % RH");
  check("temperature_sd", options.temperature_sd, 0, 5, "0 to 5 K");
  check("draws", static_cast<double>(options.draws), 0, 10000, "0 to 10000");
}

void check_start(const Enclosure& enclosure, const EnclosureOptions& options, const GelRange& gel) {
  const bool limited = !std::isnan(options.limit_rh_percent);
  const double start = enclosure.start_rh_percent;
  check("start_rh_percent", start, 0, 100, "0 to 100 % RH");
  check("start_rh_percent", start, gel.low_rh_percent, gel.high_rh_percent, range_of(gel));
  if (!limited) return;
  check("limit_rh_percent", options.limit_rh_percent, gel.low_rh_percent, gel.high_rh_percent,
        range_of(gel));
  if (start >= options.limit_rh_percent)
    throw InputError("start_rh_percent", start,
                     "below the limit of " + format_number(options.limit_rh_percent) + " % RH");
}

void check_points(const Enclosure& enclosure) {
  const std::vector<double>& rh = enclosure.contents_rh_percent;
  const std::vector<double>& moisture = enclosure.contents_moisture_percent;
  if (rh.size() != moisture.size() || rh.size() == 1)
    throw InputError("contents_rh_percent", static_cast<double>(rh.size()),
                     "at least 2 humidities, each with its moisture");
  for (std::size_t i = 0; i < rh.size(); ++i) {
    if (!(rh[i] >= 0 && rh[i] <= 100 && (i == 0 || rh[i] > rh[i - 1])))
      throw InputError("contents_rh_percent", rh[i], "0 to 100 % RH, each above the one before");
    if (!(moisture[i] >= 0 && moisture[i] <= 500 && (i == 0 || moisture[i] >= moisture[i - 1])))
      throw InputError("contents_moisture_percent", moisture[i],
                       "0 to 500 % of the dry mass, none below the one before");
  }
  if (rh.empty() != (enclosure.contents_kg == 0))
    throw InputError("contents_kg", enclosure.contents_kg,
                     "a dry mass above 0 beside the moisture of the contents, and not without it");
  if (!rh.empty() && enclosure.contents_g_per_rh != 0)
    throw InputError("contents_g_per_rh", enclosure.contents_g_per_rh,
                     "0 beside the moisture of the contents");
}

}  // namespace

void check_box(const Enclosure& enclosure) {
  if (!(enclosure.volume_m3 > 0 && enclosure.volume_m3 <= 1000))
    throw InputError("volume_m3", enclosure.volume_m3, "above 0, up to 1000 m3");
  check("gel_kg", enclosure.gel_kg, 0, 1e4, "0 to 10000 kg");
  check("contents_g_per_rh", enclosure.contents_g_per_rh, 0, 1e6, "0 to 1000000 g per % RH");
  check("contents_kg", enclosure.contents_kg, 0, 1e6, "0 to 1000000 kg");
  check_points(enclosure);
}

void check_enclosure(const Enclosure& enclosure, const Climate& climate,
                     const EnclosureOptions& options, const GelRange& gel) {
  check_box(enclosure);
  check("exchange_per_day", enclosure.exchange_per_day, 0, 1000, "0 to 1000 volumes a day");
  if (!(options.days > 0 && options.days <= 36500))
    throw InputError("days", options.days, "above 0, up to 36500 days");
  check_spreads(options);
  check_start(enclosure, options, gel);
  check_climate(climate, options.days);
}

}  // namespace aeruca::detail
