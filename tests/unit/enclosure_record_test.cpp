// A box through a record outside, and the exchange found from measurements.

#include <cmath>
#include <vector>

#include "aeruca/enclosure.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

const Dataset& data() {
  static const auto dataset = default_dataset();
  return *dataset;
}

// Hourly, with days and seasons.
LoggerRecord hourly(int hours, double (*rh)(int), double (*temperature)(int)) {
  std::vector<std::int64_t> times;
  std::vector<double> humidities;
  std::vector<double> temperatures;
  for (int i = 0; i < hours; ++i) {
    times.push_back(1704067200 + 3600 * static_cast<std::int64_t>(i));
    humidities.push_back(rh(i));
    temperatures.push_back(temperature(i));
  }
  return make_logger_record(times, temperatures, humidities);
}

double outside_rh(int i) {
  return 55 + 12 * std::sin(i / 1400.0) + 6 * std::sin(i * 0.26) + 0.01 * (i % 7);
}
double outside_c(int i) {
  return 18 + 4 * std::sin(i * 0.26) + 5 * std::sin(i / 1400.0);
}

Enclosure empty_box(double exchange) {
  Enclosure box;
  box.volume_m3 = 0.2;
  box.exchange_per_day = exchange;
  box.start_rh_percent = 30;
  return box;
}

// Noise that is the same each time: +/- `size`, without a run.
double noise(std::size_t i, double size) {
  return size * std::sin(static_cast<double>(i * i % 1009));
}

// The readings of a logger inside a box, every two hours.
LoggerRecord inside_of(const Enclosure& box, const LoggerRecord& outside, double noise_rh) {
  EnclosureOptions options;
  options.draws = 0;
  options.days = 200 * 2.0 / 24;  // the points of the curve then lie two hours apart
  const auto f = forecast_enclosure(data(), box, climate_of(outside), options);
  std::vector<std::int64_t> times;
  std::vector<double> rh;
  for (std::size_t i = 0; i < f.days.size(); ++i) {
    times.push_back(outside.times_s.front() + 7200 * static_cast<std::int64_t>(i));
    rh.push_back(f.rh_percent[i] + noise(i, noise_rh));
  }
  return make_logger_record(times, {}, rh);
}

}  // namespace

TEST_CASE("A tight empty box keeps its water: its humidity follows the temperature alone") {
  const LoggerRecord record = hourly(500, outside_rh, outside_c);
  EnclosureOptions options;
  options.draws = 0;
  options.days = 20;
  const auto f = forecast_enclosure(data(), empty_box(0), climate_of(record), options);
  const auto vapour = [](double c) { return saturation_pressure_pa(c) / (c + 273.15); };
  const double closed = 30 * vapour(outside_c(0)) / vapour(outside_c(480));
  CHECK(std::abs(f.rh_percent.back() / closed - 1) < 1e-5);
}

TEST_CASE("A very leaky empty box has the air outside") {
  const LoggerRecord record = hourly(500, outside_rh, outside_c);
  EnclosureOptions options;
  options.draws = 0;
  options.days = 20 + 0.3 / 24;  // within the reading of hour 480
  const auto f = forecast_enclosure(data(), empty_box(1000), climate_of(record), options);
  CHECK(std::abs(f.rh_percent.back() - outside_rh(480)) < 1e-3);
}

TEST_CASE("A record shorter than the visit is refused, and one that never gets there says so") {
  const LoggerRecord record = hourly(500, outside_rh, outside_c);
  EnclosureOptions options;
  options.draws = 0;
  options.limit_rh_percent = 45;
  try {
    (void)forecast_enclosure(data(), empty_box(1), climate_of(record), options);
    CHECK(false);
  } catch (const InputError& error) {
    CHECK(std::string(error.what()) ==
          "days = 365: accepted is at most the 20.79 days of the record outside");
  }
  options.days = 20;
  Enclosure box = empty_box(0.05);
  box.gel_kg = 2;
  const auto f = forecast_enclosure(data(), box, climate_of(record), options);
  CHECK(std::isinf(f.days_to_limit.value));
  CHECK(f.message.starts_with("the limit of 45 % RH is not reached within the 20.79 days"));
}

TEST_CASE("A year of hours: the gel asked for keeps to the limit, a little less does not") {
  const auto climate = climate_of(hourly(8784, outside_rh, outside_c));
  EnclosureOptions options;
  options.draws = 0;
  options.limit_rh_percent = 45;
  const auto asked = forecast_enclosure(data(), empty_box(0.5), climate, options);
  for (const double share : {1.001, 0.999}) {
    Enclosure box = empty_box(0.5);
    box.gel_kg = share * asked.gel_for_visit_kg.value;
    const auto f = forecast_enclosure(data(), box, climate, options);
    CHECK((f.days_to_limit.value > 365) == (share > 1));
  }
}

TEST_CASE("A gap of the record outside is told") {
  std::vector<std::int64_t> times;
  for (int i = 0; i < 200; ++i)
    times.push_back(3600 * static_cast<std::int64_t>(i < 100 ? i : i + 96));
  std::vector<double> rh(200, 50);
  std::vector<double> temperature(200, 20);
  for (std::size_t i = 0; i < 200; ++i) rh[i] += static_cast<double>(i % 5);
  const Climate climate = climate_of(make_logger_record(times, temperature, rh));
  CHECK(std::abs(climate.gap_days - 97.0 / 24) < 1e-9);
}

TEST_CASE("Humidity outside without its temperature is refused") {
  const std::vector<std::int64_t> times{0, 3600, 7200};
  const std::vector<double> rh{50, 51, 52};
  CHECK_THROWS_AS(climate_of(make_logger_record(times, {}, rh)), InputError);
}

TEST_CASE("The decay of a tracer gives the exchange with its error") {
  std::vector<double> hours;
  std::vector<double> ppm;
  for (std::size_t i = 0; i < 49; ++i) {
    hours.push_back(static_cast<double>(i));
    ppm.push_back(420 + 2500 * std::exp(-0.8 * hours.back() / 24) + noise(i, 30));
  }
  const ExchangeFit fit = fit_decay(hours, ppm, 420);
  REQUIRE(fit.status == Status::converged);
  CHECK(fit.low_per_day < 0.8);
  CHECK(fit.high_per_day > 0.8);
  CHECK(std::abs(fit.exchange_per_day - 0.8) < 0.03);
  CHECK(fit.relative_sd < 0.02);
  CHECK(std::abs(fit.residual_sd - 30 / std::sqrt(2)) < 5);
}

TEST_CASE("Readings that cannot tell the exchange give none") {
  std::vector<double> hours;
  std::vector<double> ppm;
  for (std::size_t i = 0; i < 20; ++i) {
    hours.push_back(static_cast<double>(i));
    ppm.push_back(430 + noise(i, 30));
  }
  const ExchangeFit fit = fit_decay(hours, ppm, 420);
  CHECK(fit.status == Status::infeasible);
  CHECK(std::isnan(fit.exchange_per_day));
  CHECK(fit.message.starts_with("these readings cannot tell the exchange of air"));
  CHECK_THROWS_AS(fit_decay(std::vector<double>{0, 1, 1, 2}, std::vector<double>{4, 3, 2, 1}, 0),
                  InputError);
  CHECK_THROWS_AS(fit_decay(std::vector<double>{0, 1, 2}, std::vector<double>{4, 3, 2}, 0),
                  InputError);
}

TEST_CASE("A record inside and one outside give the exchange back, with gel and without") {
  const LoggerRecord outside = hourly(1000, outside_rh, outside_c);
  for (const double gel_kg : {0.0, 0.02}) {
    Enclosure box = empty_box(1.7);
    box.gel_kg = gel_kg;
    const ExchangeFit fit = fit_exchange(data(), box, inside_of(box, outside, 0.3), outside);
    REQUIRE(fit.status == Status::converged);
    CHECK(fit.low_per_day < 1.7);
    CHECK(fit.high_per_day > 1.7);
    CHECK(std::abs(fit.exchange_per_day / 1.7 - 1) < 0.1);
  }
}

TEST_CASE("A record inside that stands still cannot tell the exchange") {
  const LoggerRecord outside = hourly(1000, outside_rh, [](int) { return 20.0; });
  std::vector<std::int64_t> times;
  std::vector<double> rh;
  for (std::size_t i = 0; i < 300; ++i) {
    times.push_back(outside.times_s.front() + 3600 * static_cast<std::int64_t>(i));
    rh.push_back(40 + noise(i, 1.5));
  }
  const ExchangeFit fit =
      fit_exchange(data(), empty_box(1), make_logger_record(times, {}, rh), outside);
  CHECK(fit.status == Status::infeasible);
}
