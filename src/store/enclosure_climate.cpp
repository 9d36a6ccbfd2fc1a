// What is outside an enclosure: one figure, or a logger record.

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/enclosure.hpp"
#include "aeruca/errors.hpp"

namespace aeruca {
namespace {

constexpr double kDaySeconds = 86400;

void check_temperature(double temperature_c) {
  if (!(temperature_c >= 0 && temperature_c <= 50))
    throw InputError("temperature_c", temperature_c,
                     "0 to 50 degrees C outside, for every reading");
}

}  // namespace

Climate constant_climate(double temperature_c, double rh_percent) {
  check_temperature(temperature_c);
  if (!(rh_percent >= 0 && rh_percent <= 100))
    throw InputError("rh_percent", rh_percent, "0 to 100 % RH outside");
  return {{std::numeric_limits<double>::infinity()}, {temperature_c}, {rh_percent}};
}

Climate climate_of(const LoggerRecord& record) {
  if (record.size() < 2)
    throw InputError("record", static_cast<double>(record.size()), "at least 2 readings outside");
  Climate climate;
  climate.start_s = record.times_s.front();
  const auto days = [&](std::size_t i) {
    return static_cast<double>(record.times_s[i] - record.times_s.front()) / kDaySeconds;
  };
  for (std::size_t i = 0; i < record.size(); ++i) {
    check_temperature(record.temperature_c[i]);
    const bool last = i + 1 == record.size();
    const double next = last ? days(i) : days(i + 1);
    if (!last && record.is_gap_before(i + 1)) climate.gap_days += next - days(i);
    climate.until_days.push_back((days(i) + next) / 2);
    climate.temperature_c.push_back(record.temperature_c[i]);
    climate.rh_percent.push_back(std::min(record.rh_percent[i], 100.0));
  }
  return climate;
}

}  // namespace aeruca
