// Humidity in a box, days to a limit, mass of gel: against closed forms and an integral of its own.

#include "aeruca/enclosure.hpp"

#include <cmath>
#include <functional>
#include <numbers>

#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

const Dataset& data() {
  static const auto dataset = default_dataset();
  return *dataset;
}

// Saturated vapour, kg/m3, written out anew.
double saturated(double temperature_c) {
  return saturation_pressure_pa(temperature_c) * 0.018015268 /
         (8.314462618 * (temperature_c + 273.15));
}

Enclosure our_case(double exchange_per_day, double gel_kg = 0) {
  Enclosure box;
  box.volume_m3 = 0.05;
  box.exchange_per_day = exchange_per_day;
  box.gel_kg = gel_kg;
  box.gel = "thu-2013";
  box.start_rh_percent = 6;
  return box;
}

EnclosureOptions to_limit(double limit, std::size_t draws = 0) {
  EnclosureOptions options;
  options.limit_rh_percent = limit;
  options.draws = draws;
  return options;
}

// Days for a constant climate at 25 degrees C, by a sum over small steps of humidity:
//   N t = ln[(g - h0) / (g - h1)] + m / (V rho_s) sum dX / (g - h)
double days_by_sum(const GelIsotherm& gel, const Enclosure& box, double goal, double limit) {
  const double start = box.start_rh_percent;
  constexpr int kSteps = 20000;
  double sum = 0;
  for (int i = 0; i < kSteps; ++i) {
    const double low = start + (limit - start) * i / kSteps;
    const double high = start + (limit - start) * (i + 1) / kSteps;
    sum += (gel_water(gel, high) - gel_water(gel, low)) / (goal - (low + high) / 2) * 100;
  }
  return (std::log((goal - start) / (goal - limit)) +
          box.gel_kg / (box.volume_m3 * saturated(25)) * sum) /
         box.exchange_per_day;
}

std::string refusal(const std::function<void()>& call) {
  try {
    call();
  } catch (const InputError& error) {
    return error.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("Isotherms give the water that their sources' equations were read to give") {
  struct Row {
    const char* gel;
    std::vector<double> at_tens;  // 10, 20 ... % RH at 25 degrees C, kg/kg
  };
  // Worked out by hand when the equations were read; three decimals.
  const std::vector<Row> rows{
      {"thu-2013", {.078, .135, .180, .216, .246, .270, .291, .307, .319}},
      {"schawe-123", {.073, .125, .194, .265, .320, .356, .380, .396, .408}},
      {"schawe-ws", {.052, .086, .134, .197, .262, .314, .350, .374, .391}},
      {"schawe-af25", {.068, .110, .164, .233, .307, .372, .420, .454, .478}}};
  for (const Row& row : rows) {
    const GelIsotherm gel = gel_isotherm(data(), row.gel);
    for (std::size_t i = 0; i < row.at_tens.size(); ++i)
      CHECK(std::abs(gel_water(gel, 10.0 * static_cast<double>(i + 1)) - row.at_tens[i]) < 0.00101);
  }
  CHECK(std::abs(gel_water(gel_isotherm(data(), "sakoda-1984"), 50) - 0.224) < 0.0006);
  CHECK(std::abs(gel_water(gel_isotherm(data(), "cho-1992"), 50) - 0.338) < 0.0006);
  CHECK(gel_isotherms(data()).size() == 6);
}

TEST_CASE("An isotherm is not followed beyond its range") {
  const GelIsotherm gel = gel_isotherm(data(), "thu-2013");
  CHECK_THROWS_AS(gel_water(gel, 3), InputError);
  CHECK_THROWS_AS(gel_water(gel, 97), InputError);
  CHECK_THROWS_AS(gel_water(gel, 50, 51), InputError);
  CHECK(std::isnan(gel_water(gel, NAN)));
  CHECK_THROWS_AS(gel_isotherm(data(), "thu-2012"), UnknownName);
}

TEST_CASE("Air alone halves its distance to the air outside in ln 2 over the exchange") {
  Enclosure box = our_case(0.7);
  EnclosureOptions options;
  options.draws = 0;
  options.days = std::numbers::ln2 / 0.7;
  const EnclosureForecast f = forecast_enclosure(data(), box, constant_climate(20, 60), options);
  CHECK(std::abs(f.rh_percent.back() - 33) < 1e-9);
  CHECK(std::abs(f.half_time_days - options.days) < 1e-12);
  CHECK(std::abs(f.buffered_half_time_days - options.days) < 1e-12);
}

TEST_CASE("A straight buffer follows its closed form") {
  Enclosure box = our_case(2);
  box.contents_g_per_rh = 3;
  EnclosureOptions options;
  options.draws = 0;
  options.days = 100;
  const EnclosureForecast f = forecast_enclosure(data(), box, constant_climate(18, 55), options);
  const double ratio = 0.3 / (0.05 * saturated(18));
  for (std::size_t i = 0; i < f.days.size(); ++i) {
    const double closed = 55 - 49 * std::exp(-2 * f.days[i] / (1 + ratio));
    CHECK(std::abs(f.rh_percent[i] - closed) < 1e-4);
  }
  CHECK(std::abs(f.buffered_half_time_days / (std::numbers::ln2 / 2 * (1 + ratio)) - 1) < 1e-6);
}

TEST_CASE("Days to the limit agree with the integral over humidity for every gel") {
  for (const GelIsotherm& gel : gel_isotherms(data())) {
    Enclosure box = our_case(1.5, 0.2);
    box.gel = gel.id;
    const auto f = forecast_enclosure(data(), box, constant_climate(25, 70), to_limit(45));
    CHECK(std::abs(f.days_to_limit.value / days_by_sum(gel, box, 70, 45) - 1) < 1e-4);
  }
}

TEST_CASE("The mass of gel for a visit brings the limit on the day of the visit") {
  const auto climate = constant_climate(25, 60);
  const auto asked = forecast_enclosure(data(), our_case(0.5), climate, to_limit(40));
  Enclosure box = our_case(0.5, asked.gel_for_visit_kg.value);
  CHECK(std::abs(days_by_sum(gel_isotherm(data(), "thu-2013"), box, 60, 40) - 365) < 0.05);
  CHECK(std::abs(forecast_enclosure(data(), box, climate, to_limit(40)).days_to_limit.value - 365) <
        0.05);
}

// With a recalled isotherm this case asked for 0.29 kg at half an exchange a day and 2.9 kg at 5. The
// printed ones, from 6 % RH, at 20 degrees C:
TEST_CASE("Our own worked case: what each published isotherm asks for") {
  for (const GelIsotherm& gel : gel_isotherms(data())) {
    double mass[2];
    for (const int k : {0, 1}) {
      Enclosure box = our_case(k == 0 ? 0.5 : 5);
      box.gel = gel.id;
      mass[k] = forecast_enclosure(data(), box, constant_climate(20, 60), to_limit(40))
                    .gel_for_visit_kg.value;
    }
    CAPTURE(gel.id);
    CHECK(mass[0] > 0.24);
    CHECK(mass[0] < 0.42);                           // data/README.md tells of these
    CHECK(std::abs(mass[1] / mass[0] - 10) < 0.05);  // the air itself holds a ten-thousandth
  }
}

TEST_CASE("Half the exchange takes twice the time and half the gel") {
  const auto f =
      forecast_enclosure(data(), our_case(1, 0.3), constant_climate(20, 60), to_limit(40));
  CHECK(std::abs(f.days_to_limit_half_exchange / f.days_to_limit.value - 2) < 1e-3);
  // The mass is proportional to N t - ln[(60 - 6) / (60 - 40)]: the air itself lasts that long.
  const double by_air = std::log(54.0 / 20);
  const double closed = (182.5 - by_air) / (365 - by_air);
  CHECK(std::abs(f.gel_for_visit_half_exchange_kg / f.gel_for_visit_kg.value - closed) < 1e-5);
}

TEST_CASE("A limit that is never reached is said as such") {
  const auto dry =
      forecast_enclosure(data(), our_case(1, 0.3), constant_climate(20, 38), to_limit(40));
  CHECK(std::isinf(dry.days_to_limit.value));
  CHECK(dry.gel_for_visit_kg.value == 0);
  CHECK(
      dry.message ==
      "the limit of 40 % RH is never reached: the air outside brings no more than 38 % RH inside");
  const auto tight =
      forecast_enclosure(data(), our_case(0, 0.3), constant_climate(20, 60), to_limit(40));
  CHECK(std::isinf(tight.days_to_limit.value));
  CHECK(tight.message ==
        "no air is exchanged, so that the humidity inside stays as it is without end");
}

TEST_CASE("A warmer inside is drier than the air outside") {
  Climate climate = constant_climate(5, 80);
  climate.inside_temperature_c = 20;
  EnclosureOptions options;
  options.draws = 0;
  const auto f = forecast_enclosure(data(), our_case(5), climate, options);
  CHECK(std::abs(f.rh_percent.back() - 80 * saturated(5) / saturated(20)) < 1e-3);
}

TEST_CASE("What is outside the range of the isotherm ends the forecast") {
  Enclosure box = our_case(20, 0.01);
  EnclosureOptions options;
  options.draws = 0;
  const auto f = forecast_enclosure(data(), box, constant_climate(20, 99), options);
  CHECK(f.status == Status::no_parameters);
  CHECK(f.message.find("leaves the range of the isotherm") != std::string::npos);
  CHECK(std::isnan(f.rh_percent.back()));
}

TEST_CASE("Ranges do not depend on the threads, and hold the figure") {
  Enclosure box = our_case(1, 0.5);
  box.gel = "";
  EnclosureOptions options = to_limit(40, 200);
  options.threads = 1;
  const auto one = forecast_enclosure(data(), box, constant_climate(20, 60), options);
  options.threads = 3;
  const auto three = forecast_enclosure(data(), box, constant_climate(20, 60), options);
  CHECK(one.days_to_limit.low == three.days_to_limit.low);
  CHECK(one.high_rh_percent == three.high_rh_percent);
  CHECK(one.days_to_limit.low < one.days_to_limit.value);
  CHECK(one.days_to_limit.value < one.days_to_limit.high);
  CHECK(one.gel_for_visit_kg.low < one.gel_for_visit_kg.value);
  CHECK(one.low_rh_percent.back() < one.rh_percent.back());
  options.exchange_relative_sd = options.outside_rh_sd = options.start_rh_sd =
      options.temperature_sd = 0;
  box.gel = "thu-2013";
  const auto isotherm_alone = forecast_enclosure(data(), box, constant_climate(20, 60), options);
  const double spread = isotherm_alone.days_to_limit.high / isotherm_alone.days_to_limit.low;
  CHECK(spread > 1.5);  // exp(2 * 1.645 * 0.17) = 1.75
  CHECK(spread < 2.0);
}

TEST_CASE("A bad enclosure is refused in one sentence") {
  const auto climate = constant_climate(20, 60);
  const auto with = [&](auto change) {
    Enclosure box = our_case(1, 0.3);
    EnclosureOptions options = to_limit(40);
    change(box, options);
    return refusal([&] { (void)forecast_enclosure(data(), box, climate, options); });
  };
  using E = Enclosure;
  using O = EnclosureOptions;
  CHECK(with([](E& e, O&) { e.volume_m3 = -1; }) ==
        "volume_m3 = -1: accepted is above 0, up to 1000 m3");
  CHECK(with([](E& e, O&) { e.exchange_per_day = -0.1; }) ==
        "exchange_per_day = -0.1: accepted is 0 to 1000 volumes a day");
  CHECK(with([](E& e, O&) { e.start_rh_percent = 2; }) ==
        "start_rh_percent = 2: accepted is 5.6 to 95.3 % RH, the range of the isotherm");
  CHECK(with([](E& e, O&) { e.start_rh_percent = 45; }) ==
        "start_rh_percent = 45: accepted is below the limit of 40 % RH");
  CHECK(with([](E&, O& o) { o.limit_rh_percent = 99; }) ==
        "limit_rh_percent = 99: accepted is 5.6 to 95.3 % RH, the range of the isotherm");
  CHECK(with([](E&, O& o) { o.days = 0; }) == "days = 0: accepted is above 0, up to 36500 days");
  CHECK(with([](E& e, O&) { e.gel_kg = NAN; }).starts_with("gel_kg = "));
  CHECK(refusal([] { (void)constant_climate(-3, 60); }) ==
        "temperature_c = -3: accepted is 0 to 50 degrees C outside, for every reading");
  CHECK(refusal([] { (void)constant_climate(20, 101); }) ==
        "rh_percent = 101: accepted is 0 to 100 % RH outside");
}
