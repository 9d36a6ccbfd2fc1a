// Rows that are read in one pass, where they meet the limits of that: the careful reader takes the
// others, and a reader of the file sees no difference.

#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "aeruca/logger.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

LoggerRecord parse(const std::string& text, LoggerReadOptions options = {}) {
  options.max_bad_share = 1;
  return parse_logger_csv(text, "log.csv", options);
}

// An hour each from the first of January 2024.
std::string row(int hour, const std::string& temperature, const std::string& rh) {
  return format_time(1704067200 + 3600 * static_cast<std::int64_t>(hour)) + "," + temperature +
         "," + rh + "\n";
}

}  // namespace

TEST_CASE("a number of more than 15 digits is the nearest double") {
  std::string text = "time,temperature,RH\n";
  std::vector<std::string> written;
  for (int i = 0; i < 1000; ++i) {
    std::array<char, 40> number{};
    std::snprintf(number.data(), number.size(), "%.*f", 12 + i % 4, 40 + i * 0.0123456789012345);
    written.emplace_back(number.data());
    text += row(i, "20", written.back());
  }
  const LoggerRecord record = parse(text);
  REQUIRE(record.size() == written.size());
  std::size_t unlike = 0;
  for (std::size_t i = 0; i < written.size(); ++i)
    unlike += record.rh_percent[i] == std::strtod(written[i].c_str(), nullptr) ? 0U : 1U;
  CHECK(unlike == 0);
}

TEST_CASE("degrees Fahrenheit are read as such in every row") {
  std::string text = "time,temperature (F),RH\n";
  for (int i = 0; i < 50; ++i) text += row(i, std::to_string(50 + i), "40");
  const LoggerRecord record = parse(text);
  REQUIRE(record.size() == 50);
  for (std::size_t i = 0; i < 50; ++i) {
    const double wanted = (18 + static_cast<double>(i)) / 1.8;
    CHECK(record.temperature_c[i] == Approx(wanted).epsilon(1e-14));
  }
}

TEST_CASE("an offset leads no time out of the years that are accepted") {
  std::string text =
      "time,temperature,RH\n2100-12-31T20:00Z,20,40\n2100-12-31T21:00Z,20,40\n"
      "2100-12-31T22:30:00-01:00,20,40\n2100-12-31T23:30:00-01:00,20,40\n";
  for (int i = 0; i < 50; ++i) text += "# the last lines are left to the careful reader\n";
  const LoggerRecord record = parse(text, {.future_times = FutureTimes::accept});
  CHECK(record.size() == 3);
  CHECK(record.dropped == 1);
  for (const std::int64_t time : record.times_s) CHECK(format_time(time).starts_with("2100"));
}

TEST_CASE("a humidity from a dew point or a density is the same whoever reads the row") {
  for (const std::string head : {"dew point (C)", "dew point (F)", "abs. humidity (g/m3)"}) {
    const std::string unit = head[0] == 'a' ? "" : (head[11] == 'F' ? " F" : " C");
    std::string plain = "time,T (C)," + head + "\n";
    std::string careful = plain;
    for (int i = 0; i < 400; ++i) {
      // Below freezing, above saturation, without a temperature: faults, whoever finds them.
      const std::string t = i % 50 == 7 ? "" : std::to_string(12 + i % 23) + ".25";
      const std::string value = std::to_string(i % 41 - 3 + (unit == " F" ? 32 : 0)) + ".5";
      plain += row(i, t, value);
      careful += row(i, t.empty() ? t : t + " C", value + unit);
    }
    const LoggerRecord one = parse(plain);
    const LoggerRecord other = parse(careful);
    CHECK(one.size() > 200);
    CHECK(one.times_s == other.times_s);
    CHECK(one.rh_percent == other.rh_percent);
    CHECK(one.temperature_c == other.temperature_c);
    CHECK(one.fault_counts == other.fault_counts);
  }
}
