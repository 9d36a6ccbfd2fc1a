// The review date of a box: its forecast, from the record and to the set-point of its logger.

#include "aeruca/review.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "aeruca/errors.hpp"
#include "base/calendar.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr std::int64_t kDaySeconds = 86400;
constexpr std::array<std::string_view, 4> kLimitWords{"none", "given", "set_point", "onset"};

bool stuck(const LoggerRecord& record, std::size_t reading) {
  return std::any_of(record.stuck.begin(), record.stuck.end(), [reading](const auto& stretch) {
    return stretch.first <= reading && reading <= stretch.last;
  });
}

// Mean of the readings of the last 24 h; NaN where the sensor stood still.
double last_day(const LoggerRecord& record) {
  double sum = 0;
  int count = 0;
  for (std::size_t i = record.size(); i-- > 0;) {
    if (record.times_s.back() - record.times_s[i] >= kDaySeconds) break;
    if (stuck(record, i)) continue;
    sum += record.rh_percent[i];
    ++count;
  }
  return count == 0 ? kNotGiven : sum / count;
}

void take_start(Review& review, const ReviewRequest& request, const LoggerRecord* inside) {
  review.start_rh_percent = request.enclosure.start_rh_percent;
  review.start_s = request.start_s;
  if (inside == nullptr || inside->size() == 0) return;
  if (std::isnan(review.start_rh_percent)) {
    review.start_rh_percent = last_day(*inside);
    review.start_from_record = true;
    review.start_s = inside->times_s.back();
  } else if (!review.start_s) {
    review.start_s = inside->times_s.back();
  }
}

void take_limit(Review& review, const ReviewRequest& request, const StoreAssessment* store) {
  review.limit_rh_percent = request.options.limit_rh_percent;
  review.limit_from = std::isnan(review.limit_rh_percent) ? LimitFrom::none : request.limit_from;
  if (review.limit_from != LimitFrom::none || store == nullptr) return;
  if (!(store->set_point_rh_percent >= 1)) return;
  review.limit_rh_percent = std::floor(store->set_point_rh_percent);
  review.limit_from = LimitFrom::set_point;
}

std::string date_after(const Review& review, double days) {
  if (!review.start_s || !std::isfinite(days)) return {};
  const auto seconds = static_cast<std::int64_t>(std::floor(days)) * kDaySeconds;
  return detail::iso_text(*review.start_s + seconds).substr(0, 10);
}

void take_dates(Review& review, double visit_days) {
  review.days_unattended = review.passed ? 0 : review.forecast.days_unattended;
  review.days_half_passed = review.passed ? 0 : review.forecast.days_half_passed;
  if (std::isnan(review.days_unattended)) return;
  review.review_days = std::isinf(review.days_unattended) ? visit_days : review.days_unattended;
  review.review_date = date_after(review, review.review_days);
  review.half_passed_date = date_after(review, review.days_half_passed);
}

// "38 % RH (the set-point of this logger)"
std::string limit_text(const Review& review) {
  const std::string limit = format_number(review.limit_rh_percent, 4);
  if (review.limit_from == LimitFrom::set_point)
    return say("review.limit_set_point", {{"rh_percent", limit}});
  if (review.limit_from == LimitFrom::onset)
    return say("review.limit_onset", {{"rh_percent", limit}});
  return say("review.limit_given", {{"rh_percent", limit}});
}

// "by 2026-08-01 (in 97 days)"
std::string when(double days, const std::string& date) {
  const std::string count = format_number(std::floor(days), 4);
  if (date.empty()) return say("review.in_days", {{"days", count}});
  return say("review.by_date", {{"date", date}, {"days", count}});
}

std::string half_text(const Review& review) {
  if (std::isinf(review.days_half_passed)) return say("review.half_never");
  return say("review.half", {{"when", when(review.days_half_passed, review.half_passed_date)}});
}

std::string summary_of(const Review& review) {
  if (review.passed)
    return say("review.passed", {{"rh_percent", format_number(review.start_rh_percent, 3)},
                                 {"limit", limit_text(review)}});
  if (std::isnan(review.review_days)) return {};
  const std::string date = when(review.review_days, review.review_date);
  std::string text =
      std::isinf(review.days_unattended)
          ? say("review.none_passed", {{"when", date}, {"limit", limit_text(review)}})
          : say("review.look",
                {{"when", date}, {"limit", limit_text(review)}, {"half", half_text(review)}});
  const EnclosureOptions& options = review.forecast.options;
  if (options.exchange_relative_sd == EnclosureOptions{}.exchange_relative_sd)
    text += " " + say("review.own_rule",
                      {{"percent", format_number(100 * options.exchange_relative_sd, 3)}});
  return text;
}

}  // namespace

std::string_view to_string(LimitFrom from) {
  return kLimitWords[static_cast<std::size_t>(from)];
}

Review review_enclosure(const Dataset& dataset, const ReviewRequest& request,
                        const LoggerRecord* inside, const StoreAssessment* store) {
  Review review;
  take_start(review, request, inside);
  take_limit(review, request, store);
  review.passed = review.start_rh_percent >= review.limit_rh_percent;
  Enclosure box = request.enclosure;
  box.start_rh_percent = review.start_rh_percent;
  EnclosureOptions options = request.options;
  options.limit_rh_percent = review.passed ? kNotGiven : review.limit_rh_percent;
  const Climate climate =
      review.start_s ? climate_from(request.climate, *review.start_s) : request.climate;
  review.forecast = forecast_enclosure(dataset, box, climate, options);
  take_dates(review, options.days);
  review.summary = summary_of(review);
  return review;
}

}  // namespace aeruca
