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

namespace {

constexpr double kYearDays = 365;
constexpr double kNearlyYearDays = 360;  // a year of days but for the ends of the record

// The pieces of the first year, the last held to its end.
Climate first_year(const Climate& climate) {
  Climate year = climate;
  std::size_t count = 0;
  while (count < climate.until_days.size() && climate.until_days[count] < kYearDays) ++count;
  count = std::min(count + 1, climate.until_days.size());
  year.until_days.resize(count);
  year.temperature_c.resize(count);
  year.rh_percent.resize(count);
  year.until_days.back() = kYearDays;
  return year;
}

}  // namespace

Climate climate_from(const Climate& climate, std::int64_t start_s) {
  if (climate.constant() || climate.until_days.back() < kNearlyYearDays) return climate;
  Climate year = first_year(climate);
  double offset =
      std::fmod(static_cast<double>(start_s - climate.start_s) / kDaySeconds, kYearDays);
  if (offset < 0) offset += kYearDays;
  const auto first = std::upper_bound(year.until_days.begin(), year.until_days.end(), offset);
  const auto places = first - year.until_days.begin();
  const double before = offset;
  for (std::size_t i = 0; i < year.until_days.size(); ++i)
    year.until_days[i] += i < static_cast<std::size_t>(places) ? kYearDays - before : -before;
  const auto turn = [places](std::vector<double>& list) {
    std::rotate(list.begin(), list.begin() + places, list.end());
  };
  const auto cut = static_cast<std::size_t>(places);
  const bool split = cut < year.until_days.size();
  const double cut_c = split ? year.temperature_c[cut] : 0;
  const double cut_rh = split ? year.rh_percent[cut] : 0;
  turn(year.until_days);
  turn(year.temperature_c);
  turn(year.rh_percent);
  if (split && year.until_days.back() < kYearDays) {  // the piece that the date lies in comes again
    year.until_days.push_back(kYearDays);
    year.temperature_c.push_back(cut_c);
    year.rh_percent.push_back(cut_rh);
  }
  year.start_s = start_s;
  return year;
}

}  // namespace aeruca
