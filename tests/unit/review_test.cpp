// When a box must be looked at again; contents by their own points; a year outside from a date on.

#include "aeruca/review.hpp"

#include <cmath>
#include <functional>

#include "aeruca/errors.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

constexpr std::int64_t kDay = 86400;
constexpr std::int64_t kStart = 20454 * kDay;  // 2026-01-01

const Dataset& data() {
  static const auto dataset = default_dataset();
  return *dataset;
}

ReviewRequest box_with_gel() {
  ReviewRequest request;
  request.enclosure.volume_m3 = 0.05;
  request.enclosure.exchange_per_day = 0.5;
  request.enclosure.gel_kg = 0.3;
  request.enclosure.gel = "thu-2013";
  request.enclosure.start_rh_percent = 10;
  request.climate = constant_climate(20, 60);
  request.options.limit_rh_percent = 40;
  return request;
}

// Hourly; the last day reads `last`.
LoggerRecord record_of(int days, double rh, double last) {
  std::vector<std::int64_t> times;
  std::vector<double> humidities;
  for (int i = 0; i < 24 * days; ++i) {
    times.push_back(kStart + 3600 * static_cast<std::int64_t>(i));
    humidities.push_back((i >= 24 * (days - 1) ? last : rh) + 0.1 * (i % 5));
  }
  return make_logger_record(times, {}, humidities);
}

StoreAssessment judged(const LoggerRecord& record) {
  StoreOptions options;
  options.onset = published_onset(data());
  options.accuracy_rh_percent = 2;
  return assess_store(record, options);
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

TEST_CASE("The review date is the day by which one draw in twenty has passed the limit") {
  ReviewRequest request = box_with_gel();
  request.start_s = kStart;
  const Review review = review_enclosure(data(), request);
  CHECK(review.days_unattended == review.forecast.days_to_limit.low);
  CHECK(review.days_unattended < review.days_half_passed);
  CHECK(review.days_half_passed < review.forecast.days_to_limit.high);
  // Half of the draws lie about the figure itself.
  CHECK(std::abs(review.days_half_passed / review.forecast.days_to_limit.value - 1) < 0.1);
  const auto days = static_cast<std::int64_t>(std::floor(review.days_unattended));
  CHECK(review.review_date == format_time(kStart + days * kDay).substr(0, 10));
  CHECK(review.summary.find(review.review_date) != std::string::npos);
  CHECK(review.summary.find("our own rule") != std::string::npos);
}

TEST_CASE("A measured leakage takes the words of our own rule away, and narrows the date") {
  ReviewRequest request = box_with_gel();
  const Review own = review_enclosure(data(), request);
  request.options.exchange_relative_sd = 0.05;
  const Review measured = review_enclosure(data(), request);
  CHECK(measured.summary.find("our own rule") == std::string::npos);
  CHECK(measured.days_unattended > own.days_unattended);
  CHECK(measured.review_date.empty());  // no start is dated
  CHECK(measured.summary.find("within") != std::string::npos);
}

TEST_CASE("Start and limit follow from the record and its set-point") {
  const LoggerRecord record = record_of(30, 34, 22);
  const StoreAssessment store = judged(record);
  ReviewRequest request = box_with_gel();
  request.enclosure.start_rh_percent = kNotGiven;
  request.options.limit_rh_percent = kNotGiven;
  const Review review = review_enclosure(data(), request, &record, &store);
  CHECK(std::abs(review.start_rh_percent - 22.2) < 0.05);
  CHECK(review.start_from_record);
  CHECK(review.start_s == record.times_s.back());
  CHECK(review.limit_from == LimitFrom::set_point);
  CHECK(review.limit_rh_percent == std::floor(store.set_point_rh_percent));
  CHECK(review.summary.find("the set-point of this logger") != std::string::npos);
}

TEST_CASE("A box that begins above its limit is to be looked at now") {
  const LoggerRecord record = record_of(30, 34, 55);
  const StoreAssessment store = judged(record);
  ReviewRequest request = box_with_gel();
  request.enclosure.start_rh_percent = kNotGiven;
  request.options.limit_rh_percent = kNotGiven;
  const Review review = review_enclosure(data(), request, &record, &store);
  CHECK(review.passed);
  CHECK(review.days_unattended == 0);
  CHECK(review.summary.starts_with("Look at the box now: it begins at 55.2 % RH"));
  CHECK(std::isnan(review.forecast.days_to_limit.value));
  CHECK(review.forecast.rh_percent.size() == 201);
}

TEST_CASE("Where nothing passes the limit the visit asked for remains") {
  ReviewRequest request = box_with_gel();
  request.climate = constant_climate(20, 30);
  request.options.days = 100;
  const Review review = review_enclosure(data(), request);
  CHECK(std::isinf(review.days_unattended));
  CHECK(review.review_days == 100);
  CHECK(review.summary.find("fewer than 1 draw in 20 pass 40 % RH") != std::string::npos);
}

TEST_CASE("A box without start and without record is refused") {
  ReviewRequest request = box_with_gel();
  request.enclosure.start_rh_percent = kNotGiven;
  CHECK(refusal([&] {
          (void)review_enclosure(data(), request);
        }).find("accepted is 0 to 100 % RH") != std::string::npos);
}

TEST_CASE("Contents by points on a line are contents of that slope") {
  ReviewRequest request = box_with_gel();
  EnclosureOptions options;
  options.draws = 0;
  Enclosure straight = request.enclosure;
  straight.contents_g_per_rh = 2.5;
  Enclosure points = request.enclosure;
  points.contents_kg = 0.5;
  points.contents_rh_percent = {5, 35, 60, 90};
  points.contents_moisture_percent = {2, 17, 29.5, 44.5};  // 0.5 a percent: 2.5 g
  const auto a = forecast_enclosure(data(), straight, request.climate, options);
  const auto b = forecast_enclosure(data(), points, request.climate, options);
  for (std::size_t i = 0; i < a.days.size(); ++i)
    CHECK(std::abs(a.rh_percent[i] - b.rh_percent[i]) < 1e-3);
}

TEST_CASE("Contents are not followed beyond their points, and bad ones are refused") {
  ReviewRequest request = box_with_gel();
  request.enclosure.contents_kg = 1;
  request.enclosure.contents_rh_percent = {10, 30, 50};
  request.enclosure.contents_moisture_percent = {3, 6, 9};
  request.options.limit_rh_percent = kNotGiven;
  request.options.draws = 0;
  request.options.days = 3000;
  const auto f = review_enclosure(data(), request).forecast;
  CHECK(f.status == Status::no_parameters);
  CHECK(f.message.find("reaches 50") != std::string::npos);
  const auto with = [&](auto change) {
    Enclosure box = request.enclosure;
    change(box);
    return refusal(
        [&] { (void)forecast_enclosure(data(), box, request.climate, request.options); });
  };
  CHECK(with([](Enclosure& e) { e.contents_rh_percent[1] = 60; }) ==
        "contents_rh_percent = 50: accepted is 0 to 100 % RH, each above the one before");
  CHECK(with([](Enclosure& e) { e.contents_moisture_percent[1] = 2; }) ==
        "contents_moisture_percent = 2: accepted is 0 to 500 % of the dry mass, none below the one "
        "before");
  CHECK(with([](Enclosure& e) {
          e.contents_rh_percent.pop_back();
        }).starts_with("contents_rh_percent = 2: accepted is at least 2 humidities"));
  CHECK(with([](Enclosure& e) { e.contents_kg = 0; }).starts_with("contents_kg = 0: accepted is"));
  CHECK(with([](Enclosure& e) { e.contents_g_per_rh = 1; }) ==
        "contents_g_per_rh = 1: accepted is 0 beside the moisture of the contents");
}

TEST_CASE("A year outside begins again at the date of the start") {
  std::vector<std::int64_t> times;
  std::vector<double> c;
  std::vector<double> rh;
  for (int day = 0; day < 365; ++day) {
    times.push_back(kStart + kDay * day);
    c.push_back(20);
    rh.push_back(day < 180 ? 30 : 60);
  }
  const Climate year = climate_of(make_logger_record(times, c, rh));
  const Climate later = climate_from(year, kStart + 100 * kDay);
  CHECK(later.until_days.back() == 365);
  const auto at = [&](double days) {
    std::size_t i = 0;
    while (later.until_days[i] <= days) ++i;
    return later.rh_percent[i];
  };
  CHECK(at(79.4) == 30);
  CHECK(at(79.6) == 60);
  CHECK(at(265.1) == 30);
  CHECK(at(264.9) == 60);
  const Climate next = climate_from(year, kStart + (365 + 100) * kDay);
  CHECK(next.until_days == later.until_days);
  CHECK(next.rh_percent == later.rh_percent);
  const Climate before = climate_from(year, kStart - 265 * kDay);
  CHECK(before.rh_percent == later.rh_percent);
  times.resize(300);
  c.resize(300);
  rh.resize(300);
  const Climate part = climate_of(make_logger_record(times, c, rh));
  CHECK(climate_from(part, kStart + 100 * kDay).rh_percent == part.rh_percent);
}
