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
