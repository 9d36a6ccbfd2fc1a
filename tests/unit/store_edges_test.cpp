// Where a record or a rule of the store meets its limit exactly, or the error of the sensor is large.

#include <cmath>
#include <string>
#include <vector>

#include "aeruca/brine.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

constexpr std::int64_t kStart = 1704067200;  // 2024-01-01T00:00

// Hourly readings with a little movement of temperature, so that no sensor looks stuck.
LoggerRecord hourly(const std::vector<double>& rh, std::int64_t start_s = kStart) {
  std::vector<std::int64_t> times;
  std::vector<double> temperature;
  for (std::size_t i = 0; i < rh.size(); ++i) {
    times.push_back(start_s + 3600 * static_cast<std::int64_t>(i));
    temperature.push_back(20 + (i % 2 == 0 ? 0.05 : -0.05));
  }
  return make_logger_record(times, temperature, rh);
}

StoreOptions limit(double low, double high) {
  StoreOptions options;
  options.onset = {"band", "a band", "", {20.0}, {low}, {high}};
  return options;
}

bool warns_of(const StoreAssessment& a, const std::string& text) {
  for (const std::string& warning : a.warnings) {
    if (warning.find(text) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a dip of less than the hysteresis under the limit does not dry the surface") {
  StoreOptions options = limit(50, 50);
  options.hysteresis_rh_percent = 5;
  const StoreAssessment shallow = assess_store(hourly({40, 55, 48, 55, 40}), options);
  CHECK(shallow.excursions == 1);
  CHECK(shallow.wet_dry_cycles == 1);
  const StoreAssessment deep = assess_store(hourly({40, 55, 44, 55, 40}), options);
  CHECK(deep.excursions == 2);
  CHECK(deep.wet_dry_cycles == 2);
}

// Time of wetness of ISO 9223: more than 80 % RH above 0 degrees C.
TEST_CASE("80 percent itself is not wetness") {
  CHECK(assess_store(hourly({80, 80, 80, 80}), limit(42, 46)).time_of_wetness_hours == 0);
  CHECK(assess_store(hourly({80.1, 80.2, 80, 80}), limit(42, 46)).time_of_wetness_hours == 2);
}

TEST_CASE("a reading at the low end itself is dry") {
  const StoreAssessment a = assess_store(hourly({40, 44, 42, 42, 42, 42}), limit(42, 46));
  CHECK(a.dry_at_end_hours == 4);
  CHECK(std::abs(a.above_low.share.as_read - 1.0 / 6) < 1e-12);
}

TEST_CASE("readings before 1970 fall in their own month") {
  const StoreAssessment a =
      assess_store(hourly(std::vector<double>(24, 40), -43200), limit(42, 46));
  REQUIRE(a.months.size() == 2);
  CHECK(a.months[0].year == 1969);
  CHECK(a.months[0].month == 12);
  CHECK(std::abs(a.months[0].known_hours - 12) < 1e-9);
  CHECK(a.months[1].year == 1970);
}

TEST_CASE("far below its limit a record was surely never above, whatever the errors look like") {
  StoreOptions options = limit(60, 65);
  options.accuracy_rh_percent = 3;
  options.random_rh_percent = 0.5;
  for (const AccuracyMeaning meaning : {AccuracyMeaning::uniform, AccuracyMeaning::normal_95}) {
    options.accuracy_meaning = meaning;
    const StoreAssessment a = assess_store(hourly(std::vector<double>(48, 30)), options);
    CHECK(std::abs(a.probability_below_all_time - 1) < 1e-5);
  }
}

TEST_CASE("a sensor whose error, to both sides, is wider than the band is said to be") {
  StoreOptions options = limit(42, 46);
  options.accuracy_rh_percent = 2.5;
  CHECK(warns_of(assess_store(hourly({40, 41, 40}), options), "wider than the onset band of 4"));
  options.accuracy_rh_percent = 1.5;
  CHECK_FALSE(warns_of(assess_store(hourly({40, 41, 40}), options), "wider than the onset band"));
}

TEST_CASE("the onset of a salt lies two standard uncertainties to each side of its humidity") {
  const auto dataset = default_dataset();
  const OnsetCurve curve = salt_onset_curve(*dataset, "halite");
  for (std::size_t i = 0; i < curve.temperature_c.size(); ++i) {
    const Deliquescence at = deliquescence(*dataset, "halite", curve.temperature_c[i]);
    const double spread = 2 * at.rh_uncertainty_percent;
    CHECK(std::abs(curve.low_rh_percent[i] - (at.rh_percent - spread)) < 1e-9);
    CHECK(std::abs(curve.high_rh_percent[i] - (at.rh_percent + spread)) < 1e-9);
  }
}

TEST_CASE("a stuck stretch is left out to its last reading where a temperature is needed, too") {
  std::vector<std::int64_t> times;
  std::vector<double> rh, temperature;
  for (int i = 0; i < 400; ++i) {
    const bool stuck = i >= 100 && i < 200;
    times.push_back(kStart + 3600 * i);
    rh.push_back(stuck ? 38.0 : 36 + 0.1 * (i % 5));
    temperature.push_back(stuck || i % 2 == 0 ? 20.05 : 19.95);
  }
  const LoggerRecord record = make_logger_record(times, temperature, rh);
  StoreOptions options = limit(40, 45);
  CHECK(assess_store(record, options).left_out == 100);
  options.cooler_c = 1;
  CHECK(assess_store(record, options).left_out == 100);
}
