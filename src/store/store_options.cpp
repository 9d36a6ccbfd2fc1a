#include "store/store_options.hpp"

#include <cmath>

#include "aeruca/errors.hpp"
#include "base/calendar.hpp"

namespace aeruca::detail {
namespace {

void want(bool fine, const char* name, double value, const char* accepted) {
  if (!fine) throw InputError(name, value, accepted);
}

void check_onset(const OnsetCurve& onset) {
  const std::size_t n = onset.temperature_c.size();
  if (n == 0 || onset.low_rh_percent.size() != n || onset.high_rh_percent.size() != n) {
    throw InputError("onset", onset.id.empty() ? "empty" : onset.id,
                     "one low and one high limit for each temperature, at least one");
  }
  for (std::size_t i = 0; i < n; ++i) {
    const double low = onset.low_rh_percent[i];
    const double high = onset.high_rh_percent[i];
    want(low >= 0 && low <= 100, "onset.low_rh_percent", low, "0 to 100 % RH");
    const bool open = std::isnan(high) && std::isnan(onset.high_rh_percent[0]);  // no upper end
    want(open || (high >= low && high <= 100), "onset.high_rh_percent", high,
         "the low limit to 100 % RH");
    if (i > 0 && !(onset.temperature_c[i] > onset.temperature_c[i - 1])) {
      throw InputError("onset.temperature_c", onset.temperature_c[i], "temperatures that increase");
    }
  }
}

}  // namespace

void check_options(const StoreOptions& o) {
  check_onset(o.onset);
  const auto share = [](double x) { return x >= 0 && x <= 1; };
  want(o.accuracy_rh_percent >= 0 && o.accuracy_rh_percent <= 30, "accuracy_rh_percent",
       o.accuracy_rh_percent, "0 to 30 % RH");
  want(o.random_rh_percent >= 0 && o.random_rh_percent <= 10, "random_rh_percent",
       o.random_rh_percent, "0 to 10 % RH");
  want(o.drift_rh_percent_per_year >= 0 && o.drift_rh_percent_per_year <= 20,
       "drift_rh_percent_per_year", o.drift_rh_percent_per_year, "0 to 20 % RH a year");
  if (o.drift_rh_percent_per_year > 0 && !o.calibrated_s)
    throw InputError("calibrated", "not given", "the day of the last calibration, to drift from");
  if (o.drift_rh_percent_per_year == 0 && o.calibrated_s) {
    throw InputError("calibrated", format_time(*o.calibrated_s),
                     "nothing unless a drift (% RH a year) is given");
  }
  want(std::abs(o.cooler_c) <= 20, "cooler_c", o.cooler_c, "-20 to 20 degrees C");
  want(o.hysteresis_rh_percent >= 0 && o.hysteresis_rh_percent <= 20, "hysteresis_rh_percent",
       o.hysteresis_rh_percent, "0 to 20 % RH");
  want(o.active_spell_h > 0, "active_spell_h", o.active_spell_h, "more than 0 h");
  want(share(o.active_share) && o.active_share > 0, "active_share", o.active_share,
       "more than 0 to 1");
  want(share(o.dormant_share) && o.dormant_share > 0 && o.dormant_share <= o.active_share,
       "dormant_share", o.dormant_share, "more than 0 to active_share");
  want(o.dormant_probability > 0.5 && o.dormant_probability <= 1, "dormant_probability",
       o.dormant_probability, "more than 0.5 to 1");
  want(share(o.minimum_coverage), "minimum_coverage", o.minimum_coverage, "0 to 1");
  want(o.minimum_days >= 0, "minimum_days", o.minimum_days, "0 or more");
  want(o.minimum_readings >= 0, "minimum_readings", o.minimum_readings, "0 or more");
}

}  // namespace aeruca::detail

namespace aeruca {

std::int64_t calibrated_on(std::string_view day) {
  constexpr std::int64_t kDaySeconds = 86400;
  const auto days = detail::parse_date(day);
  if (!days) throw InputError("calibrated", std::string(day), "a day such as 2026-03-01");
  return *days * kDaySeconds;
}

}  // namespace aeruca
