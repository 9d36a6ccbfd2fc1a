#include "aeruca/store.hpp"

#include <cmath>
#include <limits>

#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "catch.hpp"
#include "store/known_time.hpp"
#include "store/sensor.hpp"

using namespace aeruca;

namespace {

constexpr std::int64_t kStart = 1704067200;  // 2024-01-01T00:00

// Hourly readings with a little movement of temperature, so that no sensor looks stuck.
LoggerRecord hourly(const std::vector<double>& rh, double temperature_c = 20) {
  std::vector<std::int64_t> times;
  std::vector<double> temperature;
  for (std::size_t i = 0; i < rh.size(); ++i) {
    times.push_back(kStart + 3600 * static_cast<std::int64_t>(i));
    temperature.push_back(temperature_c + (i % 2 == 0 ? 0.05 : -0.05));
  }
  return make_logger_record(times, temperature, rh);
}

std::vector<double> constant(std::size_t n, double rh) {
  return std::vector<double>(n, rh);
}

StoreOptions band(double low = 42, double high = 46) {
  StoreOptions options;
  options.onset = {"band", "a band", "", {20.0}, {low}, {high}};
  return options;
}

bool near(double a, double b, double tolerance = 1e-12) {
  return std::abs(a - b) <= tolerance;
}

}  // namespace

TEST_CASE("a cooler object meets moister air") {
  // Handbook arithmetic of the storage guidance: 42 % at 20 C is 44.7 % one degree cooler, 47.6 %
  // two.
  CHECK(near(surface_rh_percent(42, 20, 1), 44.7, 0.05));
  CHECK(near(surface_rh_percent(42, 20, 2), 47.6, 0.05));
  CHECK(surface_rh_percent(42, 20, 0) == 42);
  CHECK(surface_rh_percent(42, 20, -1) < 42);
  CHECK(surface_rh_percent(95, 20, 3) > 100);
  CHECK(std::isnan(surface_rh_percent(std::nan(""), 20, 1)));
  CHECK(std::isnan(surface_rh_percent(40, std::nan(""), 1)));
  CHECK_THROWS_WITH(surface_rh_percent(40, 80, 1),
                    "temperature_c = 80: accepted is 0 to 60 degrees C");
  CHECK_THROWS_WITH(surface_rh_percent(40, 1, 2),
                    "temperature_c - cooler_c = -1: accepted is 0 to 60 degrees C");
  CHECK_THROWS_WITH(surface_rh_percent(-1, 20, 2), "rh_percent = -1: accepted is 0 or more");
}

TEST_CASE("the table of vapour ratios agrees with the equation to 1e-6") {
  StoreOptions options = band();
  options.cooler_c = 1.5;
  double worst = 0;
  for (double t = 2; t < 59; t += 0.37) {
    const LoggerRecord record = make_logger_record(std::vector<std::int64_t>{0},
                                                   std::vector<double>{t}, std::vector<double>{40});
    const detail::KnownTime known(record, options);
    REQUIRE(known.size() == 1);
    worst = std::max(worst, std::abs(known.surface_rh[0] / surface_rh_percent(40, t, 1.5) - 1));
  }
  CHECK(worst < 1e-6);
}

TEST_CASE("shares, spells and cycles of a small record are those counted by hand") {
  // 10 h at 40, 6 h at 44, 4 h at 47, 10 h at 40, 2 h at 47, 8 h at 40
  std::vector<double> rh;
  for (const auto& [n, value] : std::vector<std::pair<int, double>>{
           {10, 40}, {6, 44}, {4, 47}, {10, 40}, {2, 47}, {8, 40}}) {
    rh.insert(rh.end(), static_cast<std::size_t>(n), value);
  }
  const StoreAssessment a = assess_store(hourly(rh), band());
  CHECK(a.period_hours == 40);
  CHECK(a.known_hours == 40);
  CHECK(a.coverage == 1);
  CHECK(near(a.above_low.share.as_read, 12.0 / 40));
  CHECK(near(a.above_high.share.as_read, 6.0 / 40));
  CHECK(near(a.above_low.share.if_reads_high, 6.0 / 40));  // 47 - 3 = 44 > 42; 44 - 3 = 41
  CHECK(near(a.above_low.share.if_reads_low, 1.0));        // 40 + 3 = 43 > 42
  CHECK(near(a.above_high.share.if_reads_high, 0));
  CHECK(near(a.above_high.share.if_reads_low, 12.0 / 40));  // 44 + 3 = 47 > 46
  // Uniform bias of +-3: 40 is above 42 with probability 1/6, 44 with 5/6, 47 always.
  CHECK(near(a.above_low.share.expected, (28.0 / 6 + 6 * 5.0 / 6 + 6) / 40));
  CHECK(a.above_low.longest.hours == 10);
  CHECK(a.above_low.longest.start_s == kStart + 10 * 3600);
  CHECK(a.above_low.longest.end_s == kStart + 19 * 3600);
  CHECK_FALSE(a.above_low.longest.touches_gap);
  CHECK(a.above_high.longest.hours == 4);
  CHECK(a.above_high.longest_h.if_reads_low == 10);
  CHECK(a.above_low.longest_h.if_reads_high == 4);
  CHECK(a.excursions == 2);
  CHECK(a.wet_dry_cycles == 2);
  CHECK(a.rh_percent.p5 == 40);
  CHECK(a.rh_percent.p95 == 47);
  CHECK(a.time_of_wetness_hours == 0);
  CHECK(a.probability_below_all_time == 0);
  CHECK(a.verdict == Verdict::active);                    // 15 % of the time above 46 as read
  CHECK(near(a.probability_active, 1 - (-1.0 + 3) / 6));  // needs a bias above 46 - 47
}

TEST_CASE("the state between the limits is kept, so a hover makes no cycles") {
  std::vector<double> rh = constant(200, 40);
  for (std::size_t i = 20; i < 100; ++i) rh[i] = i % 2 == 0 ? 45.5 : 46.5;
  StoreAssessment a = assess_store(hourly(rh), band());
  CHECK(a.excursions == 1);
  CHECK(a.wet_dry_cycles == 1);
  a = assess_store(hourly(rh), [] {
    StoreOptions o = band(46, 46);
    o.hysteresis_rh_percent = 0;
    return o;
  }());
  CHECK(a.excursions == 40);
}

TEST_CASE("verdicts follow the rules of the header") {
  const auto year = [](double rh) { return assess_store(hourly(constant(8760, rh)), band()); };
  CHECK(year(38.9).verdict == Verdict::dormant);
  CHECK(year(38.9).probability_dormant == 1);
  CHECK(near(year(38.9).probability_below_all_time, 1));
  CHECK(year(39.2).verdict == Verdict::dormant);
  CHECK(near(year(39.2).probability_dormant, (42 - 39.2 + 3) / 6));
  CHECK(year(40).verdict == Verdict::borderline);
  CHECK(near(year(40).probability_dormant, 5.0 / 6));
  CHECK(near(year(45).probability_active, 1 - 4.0 / 6));
  CHECK(year(45).verdict == Verdict::borderline);
  CHECK(near(year(45).probability_borderline, 4.0 / 6));
  CHECK(year(46.01).verdict == Verdict::active);
  CHECK(near(year(50).probability_active, 1));
  CHECK(year(39.2).reason ==
        "with probability 0.97 the surface was above 42 % RH for less than 24 h on end and less "
        "than 1 % of the known time (never as read)");
  CHECK(year(40).reason ==
        "neither is sure enough: dormant 0.83, borderline 0.17, active below 0.01, where dormant "
        "asks for 0.95 and active for 0.5; as read it kept to the rule for dormant (above 42 % RH "
        "never as read); the sensor's +/-3 % RH keeps it from dormant");
  CHECK(year(50).reason ==
        "with probability above 0.99 the surface was above 46 % RH for 24 h on end or for 5 % of "
        "the known time (100 % of the known time as "
        "read, longest spell 8760 h from 2024-01-01T00:00:00)");
}

TEST_CASE("a borderline verdict is never given the probability of another") {
  const StoreAssessment a = assess_store(hourly(constant(8760, 40)), [] {
    StoreOptions o = band();
    o.accuracy_rh_percent = 7;
    return o;
  }());
  // Uniform bias of +-7: dormant below +2 (9/14), active from +6 (1/14).
  CHECK(near(a.probability_dormant, 9.0 / 14));
  CHECK(near(a.probability_active, 1.0 / 14));
  CHECK(near(a.probability_dormant + a.probability_borderline + a.probability_active, 1));
  CHECK(a.verdict == Verdict::borderline);
  CHECK_THAT(a.reason, aeruca::test::contains("dormant 0.64, borderline 0.29, active 0.071"));
  CHECK_THAT(a.reason, aeruca::test::contains("the sensor's +/-7 % RH keeps it from dormant"));
}

TEST_CASE("a limit without an upper end never makes a store active") {
  const double none = std::nan("");
  const auto year = [&](double rh) {
    return assess_store(hourly(constant(8760, rh)), band(35, none));
  };
  CHECK(year(30).verdict == Verdict::dormant);
  CHECK(year(60).verdict == Verdict::borderline);
  CHECK(std::isnan(year(60).probability_active));
  CHECK(std::isnan(year(60).above_high.share.as_read));
  CHECK(near(year(36).probability_dormant + year(36).probability_borderline, 1));
  CHECK(
      year(60).reason ==
      "neither is sure enough: dormant below 0.01, not dormant above 0.99, where dormant asks for "
      "0.95; what was read keeps it from dormant: above 35 % RH 100 % of the "
      "known time as read, longest spell 8760 h from "
      "2024-01-01T00:00:00; the source names no humidity above which activity is expected, so "
      "active cannot be told");
}

TEST_CASE("a short wet spell of less than a day does not make a year active") {
  std::vector<double> rh = constant(8760, 35);
  for (std::size_t i = 4000; i < 4020; ++i) rh[i] = 60;
  CHECK(assess_store(hourly(rh), band()).verdict == Verdict::dormant);
  CHECK(assess_store(hourly(rh), band()).probability_below_all_time == 0);
  for (std::size_t i = 4000; i < 4024; ++i) rh[i] = 60;
  CHECK(assess_store(hourly(rh), band()).verdict == Verdict::active);
}

TEST_CASE("gaps break a spell, lower the coverage and are said") {
  std::vector<std::int64_t> times;
  std::vector<double> rh;
  for (int i = 0; i < 24 * 20; ++i) {
    if (i >= 100 && i < 340) continue;
    times.push_back(kStart + 3600 * i);
    rh.push_back(i >= 90 && i < 350 ? 50 : 35 + 0.01 * (i % 3));
  }
  const StoreAssessment a = assess_store(make_logger_record(times, {}, rh), band());
  CHECK(a.gaps == 1);
  CHECK(a.longest_gap_hours == 241);
  CHECK(a.known_hours == 240);
  CHECK(near(a.coverage, 0.5));
  CHECK(a.above_low.longest.hours == 10);
  CHECK(a.above_low.longest.touches_gap);
  CHECK(a.excursions == 1);
  CHECK(a.wet_dry_cycles == 1);
  CHECK(std::isnan(a.temperature_c.p50));
  CHECK(std::isnan(a.time_of_wetness_hours));
  REQUIRE(a.warnings.size() >= 2);
  CHECK(a.warnings[0] == "the longest of 1 gaps lasts 241 h: a wet spell can hide in it");
  CHECK(a.warnings[1] == "the record covers 20 days: it says nothing of the seasons it leaves out");
}

TEST_CASE("too little known time is not known, unless it shows activity") {
  CHECK(assess_store(hourly(constant(100, 35)), band()).verdict == Verdict::not_known);
  CHECK(assess_store(hourly(constant(100, 35)), band()).reason ==
        "the known time is 4.17 days; at least 7 are asked");
  CHECK(assess_store(hourly(constant(100, 55)), band()).verdict == Verdict::active);
  std::vector<std::int64_t> times;
  for (int day = 0; day < 40; ++day) {
    if (day % 2 == 0)
      for (int hour = 0; hour < 24; ++hour) times.push_back(kStart + 86400 * day + 3600 * hour);
  }
  std::vector<double> rh(times.size(), 30);
  for (std::size_t i = 0; i < rh.size(); i += 2) rh[i] = 30.5;
  const StoreAssessment a = assess_store(make_logger_record(times, {}, rh), band());
  CHECK(a.verdict == Verdict::not_known);
  CHECK(a.reason == "only 51.3 % of the period is known; at least 75 % is asked");
}

TEST_CASE("rare readings stand for half a day to each side, and a few of them are no record") {
  const auto spaced = [](std::size_t n, std::int64_t step_s) {
    std::vector<std::int64_t> times;
    for (std::size_t i = 0; i < n; ++i)
      times.push_back(kStart + step_s * static_cast<std::int64_t>(i));
    std::vector<double> rh(n, 35);
    for (std::size_t i = 0; i < n; i += 2) rh[i] = 35.5;
    return assess_store(make_logger_record(times, {}, rh), band());
  };
  const StoreAssessment two = spaced(2, 59 * 86400);
  CHECK(two.verdict == Verdict::not_known);
  CHECK(two.reason == "the known time is 2 days; at least 7 are asked");
  CHECK(two.known_hours == 48);
  CHECK(two.coverage == 48.0 / (60 * 24));
  CHECK(two.gaps == 1);
  CHECK(two.longest_gap_hours == 59 * 24);
  CHECK(std::isnan(two.probability_dormant));
  const StoreAssessment weekly = spaced(52, 7 * 86400);
  CHECK(weekly.verdict == Verdict::not_known);
  CHECK(weekly.known_hours == 52 * 24);
  CHECK(weekly.reason == "only 14.5 % of the period is known; at least 75 % is asked");
  const StoreAssessment daily = spaced(300, 86400);
  CHECK(daily.verdict == Verdict::dormant);
  CHECK(daily.coverage == 1);
  CHECK(daily.gaps == 0);
  CHECK(std::isnan(spaced(10, 3600).probability_dormant));
  CHECK(spaced(10, 86400).reason ==
        "the record has 10 readings that can be assessed; at least 24 are asked");
}

TEST_CASE("a stuck stretch counts as not known") {
  std::vector<std::int64_t> times;
  std::vector<double> rh;
  for (int i = 0; i < 400; ++i) {
    times.push_back(kStart + 3600 * i);
    rh.push_back(i >= 100 && i < 200 ? 38.0 : 36 + 0.1 * (i % 5));
  }
  const StoreAssessment a = assess_store(make_logger_record(times, {}, rh), band());
  CHECK(a.left_out == 100);
  CHECK(a.readings == 300);
  CHECK(near(a.coverage, 0.75));
  CHECK(a.warnings[1] ==
        "100 readings lie in stretches where the sensor stood still: taken as not known");
}

TEST_CASE("temperatures that are missing or too cold are left out where they are needed") {
  std::vector<double> t(300, 20.0);
  std::vector<std::int64_t> times;
  std::vector<double> rh;
  for (int i = 0; i < 300; ++i) {
    times.push_back(kStart + 3600 * i);
    rh.push_back(36 + 0.1 * (i % 5));
  }
  t[10] = std::nan("");
  t[20] = 1;
  const LoggerRecord record = make_logger_record(times, t, rh);
  StoreOptions options = band();
  CHECK(assess_store(record, options).left_out == 0);
  options.cooler_c = 2;
  const StoreAssessment a = assess_store(record, options);
  CHECK(a.left_out == 2);
  CHECK(near(a.surface_rh_percent.p50, surface_rh_percent(a.rh_percent.p50, 20, 2), 1e-4));
  CHECK_THROWS_WITH(assess_store(make_logger_record(times, {}, rh), options),
                    "cooler_c = 2: accepted is 0 and a limit that does not change with "
                    "temperature, for the record has no temperatures");
}

TEST_CASE("an onset that changes with temperature is followed") {
  StoreOptions options = band();
  options.onset = {"salt", "a salt", "", {10.0, 30.0}, {50.0, 40.0}, {52.0, 42.0}};
  CHECK(assess_store(hourly(constant(400, 44.0), 20), options).above_low.share.as_read <
        1e-12);  // 45 at 20 C
  CHECK(near(assess_store(hourly(constant(400, 44.0), 25), options).above_low.share.as_read,
             1));  // 42.5 at 25 C
  CHECK(assess_store(hourly(constant(400, 44.0), 35), options).readings == 0);
  CHECK(assess_store(hourly(constant(400, 44.0), 35), options).reason ==
        "no reading of the record can be assessed");
}

TEST_CASE("sensor errors have the distributions they are said to have") {
  const detail::SensorError uniform(3, AccuracyMeaning::uniform, 0);
  CHECK(uniform.bias_below(-3) == 0);
  CHECK(near(uniform.bias_below(0), 0.5));
  CHECK(near(uniform.bias_below(1.5), 0.75));
  const detail::SensorError normal(3, AccuracyMeaning::normal_95, 0);
  CHECK(near(normal.bias_below(3) - normal.bias_below(-3), 0.95, 1e-12));
  const detail::SensorError exact(0, AccuracyMeaning::uniform, 0);
  CHECK(exact.bias_below(0) == 1);
  CHECK(exact.bias_below(-1e-9) == 0);
  // Uniform and normal together, by direct summation over the bias.
  const detail::SensorError both(3, AccuracyMeaning::uniform, 0.5);
  for (const double x : {-4.0, -2.9, 0.0, 1.0, 2.8, 3.3}) {
    double sum = 0;
    for (int k = 0; k < 20000; ++k) {
      const double b = -3 + 6 * (k + 0.5) / 20000;
      sum += 0.5 * std::erfc(-(x - b) / 0.5 / std::sqrt(2.0)) / 20000;
    }
    CHECK(near(both.total_below(x), sum, 1e-8));
  }
}

TEST_CASE("the table of a sensor error is its distribution to 1e-13") {
  using detail::SensorError;
  for (const SensorError& exact : {SensorError(3, AccuracyMeaning::normal_95, 0),
                                   SensorError(2, AccuracyMeaning::normal_95, 1.5),
                                   SensorError(3, AccuracyMeaning::uniform, 0.5),
                                   SensorError(0.1, AccuracyMeaning::uniform, 2),
                                   SensorError(0, AccuracyMeaning::uniform, 1)}) {
    SensorError table = exact;
    table.tabulate();
    const std::vector<double> second(1, 1.0);
    double worst = 0;
    for (double x = -20; x < 20; x += 0.00371) {
      const std::vector<double> margin(1, x);
      const double gap = table.expected_seconds(margin, second) - (1 - exact.total_below(x));
      worst = std::max(worst, std::abs(gap));
    }
    CHECK(worst < 1e-13);
  }
}

TEST_CASE("how long the store had been dry is counted from the last reading above the low end") {
  std::vector<double> rh = constant(100, 40);
  CHECK(assess_store(hourly(rh), band()).dry_at_end_hours == 99);  // never above: the whole record
  rh[30] = 45;
  CHECK(assess_store(hourly(rh), band()).dry_at_end_hours == 69);
  rh[99] = 45;
  CHECK(assess_store(hourly(rh), band()).dry_at_end_hours == 0);
}

TEST_CASE("the probability of never being above counts every reading's own error") {
  const std::vector<double> margins{1.0, 2.0, 0.5, 4.0};
  const detail::SensorError error(2, AccuracyMeaning::uniform, 0.4);
  double sum = 0;
  for (int k = 0; k < 4000; ++k) {
    const double b = -2 + 4 * (k + 0.5) / 4000;
    double product = 1;
    for (const double m : margins) product *= 0.5 * std::erfc(-(m - b) / 0.4 / std::sqrt(2.0));
    sum += product / 4000;
  }
  const std::vector<double> dry_air(margins.size(), 0);
  const detail::Margins read(dry_air, margins);
  CHECK(near(error.all_below(read), sum, 2e-3));
  CHECK(near(detail::SensorError(2, AccuracyMeaning::uniform, 0).all_below(read), (0.5 + 2) / 4));
}

TEST_CASE("months are told apart and the worst is found") {
  std::vector<double> rh = constant(24 * 91, 40);
  for (std::size_t i = 24 * 31; i < 24 * 36; ++i) rh[i] = 50;
  const StoreAssessment a = assess_store(hourly(rh), band());
  REQUIRE(a.months.size() == 3);
  CHECK(a.months[1].month == 2);
  CHECK(a.months[1].known_hours == 29 * 24);
  CHECK(near(a.months[1].share_above_high, 5.0 / 29));
  CHECK(a.worst_month == 1);
}

TEST_CASE("wrong options are refused by name") {
  const LoggerRecord record = hourly(constant(10, 40));
  const auto refuses = [&](auto change, const char* message) {
    StoreOptions options = band();
    change(options);
    CHECK_THROWS_WITH(assess_store(record, options), message);
  };
  refuses(
      [](StoreOptions& o) { o.onset = {}; },
      "onset = empty: accepted is one low and one high limit for each temperature, at least one");
  refuses([](StoreOptions& o) { o.onset.low_rh_percent = {-1}; },
          "onset.low_rh_percent = -1: accepted is 0 to 100 % RH");
  refuses([](StoreOptions& o) { o.onset.high_rh_percent = {40}; },
          "onset.high_rh_percent = 40: accepted is the low limit to 100 % RH");
  refuses([](StoreOptions& o) { o.accuracy_rh_percent = 31; },
          "accuracy_rh_percent = 31: accepted is 0 to 30 % RH");
  refuses([](StoreOptions& o) { o.accuracy_rh_percent = std::nan(""); },
          "accuracy_rh_percent = not a number: accepted is 0 to 30 % RH");
  refuses([](StoreOptions& o) { o.random_rh_percent = -1; },
          "random_rh_percent = -1: accepted is 0 to 10 % RH");
  refuses([](StoreOptions& o) { o.cooler_c = 21; },
          "cooler_c = 21: accepted is -20 to 20 degrees C");
  refuses([](StoreOptions& o) { o.active_spell_h = 0; },
          "active_spell_h = 0: accepted is more than 0 h");
  refuses([](StoreOptions& o) { o.dormant_share = 0.5; },
          "dormant_share = 0.5: accepted is more than 0 to active_share");
  refuses([](StoreOptions& o) { o.dormant_probability = 0.4; },
          "dormant_probability = 0.4: accepted is more than 0.5 to 1");
  refuses([](StoreOptions& o) { o.minimum_coverage = 2; },
          "minimum_coverage = 2: accepted is 0 to 1");
  CHECK_THROWS_WITH(onset_curve(120.0), "limit_rh_percent = 120: accepted is 0 to 100 % RH");
}
