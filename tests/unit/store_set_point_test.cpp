// The set-point: what the display may show, and how far a record is from it.

#include <cmath>
#include <vector>

#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

// With some movement of temperature, so that no sensor looks stuck.
LoggerRecord hourly(const std::vector<double>& rh) {
  std::vector<std::int64_t> times;
  std::vector<double> temperature;
  for (std::size_t i = 0; i < rh.size(); ++i) {
    times.push_back(1704067200 + 3600 * static_cast<std::int64_t>(i));
    temperature.push_back(18 + static_cast<double>(i % 7));
  }
  return make_logger_record(times, temperature, rh);
}

// Humid for a week and now and then; dry else.
std::vector<double> restless() {
  std::vector<double> rh;
  for (int i = 0; i < 8760; ++i) {
    const bool week = i > 5000 && i < 5168;
    rh.push_back((week ? 44 : 34) + 3 * std::sin(0.7 * i) + (i % 97 == 0 ? 9 : 0));
  }
  return rh;
}

std::vector<StoreOptions> judged_in_many_ways() {
  OnsetCurve falling;
  falling.id = "falls with temperature";
  falling.temperature_c = {0, 50};
  falling.low_rh_percent = {46, 36};
  falling.high_rh_percent = {50, 40};
  std::vector<StoreOptions> ways;
  for (const bool curved : {false, true}) {
    for (const double cooler : {0.0, 1.5}) {
      for (const AccuracyMeaning meaning : {AccuracyMeaning::uniform, AccuracyMeaning::normal_95}) {
        StoreOptions way;
        way.onset = curved ? falling : onset_curve(42);
        way.cooler_c = cooler;
        way.accuracy_meaning = meaning;
        ways.push_back(way);
      }
    }
  }
  return ways;
}

}  // namespace

TEST_CASE("a display at the set-point is dormant as surely as asked, and above it no longer") {
  for (const StoreOptions& way : judged_in_many_ways()) {
    const StoreAssessment judged = assess_store(hourly(restless()), way);
    const double set_point = judged.set_point_rh_percent;
    INFO(way.onset.id << ", cooler by " << way.cooler_c << ": " << set_point);
    const auto held_at = [&](double rh) {
      return assess_store(hourly(std::vector<double>(8760, rh)), way).probability_dormant;
    };
    CHECK(held_at(set_point - 1e-9) >= 0.95 - 1e-8);
    // Above, the coldest hours alone are no spell of a day where the limit changes with temperature.
    if (way.onset.temperature_c.size() == 1 && way.cooler_c == 0)
      CHECK(held_at(set_point + 0.01) < 0.95);
  }
}

TEST_CASE("a record is dormant as surely as asked when it is drier by what it is too humid") {
  for (const StoreOptions& way : judged_in_many_ways()) {
    const StoreAssessment judged = assess_store(hourly(restless()), way);
    INFO(way.onset.id << ", cooler by " << way.cooler_c);
    REQUIRE(judged.too_humid_by_rh_percent > 0);
    REQUIRE(judged.probability_dormant < 0.95);
    std::vector<double> drier = restless();
    for (double& rh : drier) rh -= judged.too_humid_by_rh_percent;
    const StoreAssessment then = assess_store(hourly(drier), way);
    CHECK(std::abs(then.probability_dormant - 0.95) < 1e-9);
    CHECK(std::abs(then.too_humid_by_rh_percent) < 1e-9);
    CHECK(std::abs(then.set_point_rh_percent - judged.set_point_rh_percent) < 1e-9);
  }
}

TEST_CASE("a better sensor and a surer limit allow a higher display, by the closed form") {
  StoreOptions way;
  way.onset = onset_curve(42);
  const auto set_point = [&] {
    return assess_store(hourly(std::vector<double>(400, 30)), way).set_point_rh_percent;
  };
  CHECK(std::abs(set_point() - (42 - 0.9 * 3)) < 1e-12);
  way.accuracy_rh_percent = 1;
  CHECK(std::abs(set_point() - (42 - 0.9)) < 1e-12);
  way.accuracy_meaning = AccuracyMeaning::normal_95;
  CHECK(std::abs(set_point() - (42 - 1.6448536269514722 / 1.959963984540054)) < 1e-12);
  way.accuracy_rh_percent = 0;
  CHECK(set_point() == 42);
}

TEST_CASE("few readings have a set-point and no distance from it, none have neither") {
  StoreOptions way;
  way.onset = onset_curve(42);
  const StoreAssessment few = assess_store(hourly(std::vector<double>(5, 30)), way);
  CHECK(std::abs(few.set_point_rh_percent - 39.3) < 1e-12);
  CHECK(std::isnan(few.too_humid_by_rh_percent));
  const StoreAssessment none = assess_store(LoggerRecord(), way);
  CHECK(std::isnan(none.set_point_rh_percent));
  CHECK(std::isnan(none.too_humid_by_rh_percent));
}
