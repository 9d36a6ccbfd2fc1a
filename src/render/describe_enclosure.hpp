#pragma once

// The results of the enclosure, described once.

#include <cmath>
#include <string>

#include "aeruca/enclosure.hpp"
#include "aeruca/review.hpp"
#include "base/number_text.hpp"
#include "base/words.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

/// "120 (90 to 150) days", "never".
[[nodiscard]] std::string drawn_text(const DrawnFigure& figure, std::string_view unit);

template <>
struct Description<DrawnFigure> {
  static constexpr std::string_view name = "DrawnFigure";
  static constexpr std::string_view meaning =
      "A figure with its range, 5 to 95 % of the draws; infinite: never.";
  template <class Take>
  static void figures(Take take) {
    take("value", &DrawnFigure::value, "", "of what was given", at_a_glance);
    take("low", &DrawnFigure::low, "", "low end", at_a_glance);
    take("high", &DrawnFigure::high, "", "high end", at_a_glance);
    take(
        "never", [](const DrawnFigure& one) { return std::isinf(one.value); }, "",
        "the figure is infinite");
  }
  static std::string said(const DrawnFigure& figure, const Label& label) {
    return drawn_text(figure, label.unit);
  }
};

template <>
struct Description<GelIsotherm> {
  static constexpr std::string_view name = "GelIsotherm";
  static constexpr std::string_view meaning = "A published isotherm of a silica gel.";
  template <class Take>
  static void figures(Take take) {
    take("id", &GelIsotherm::id, "", "name", at_a_glance);
    take("title", &GelIsotherm::title, "", "gel", at_a_glance);
    take("form", &GelIsotherm::form, "", "equation, see data/README.md");
    take("parameters", &GelIsotherm::parameters, "", "its parameters");
    take("low_rh_percent", &GelIsotherm::low_rh_percent, "% RH", "range from");
    take("high_rh_percent", &GelIsotherm::high_rh_percent, "% RH", "range to");
    take("capacity_sd", &GelIsotherm::capacity_sd, "",
         "standard deviation of its capacity, relative");
    take("source", &GelIsotherm::source, "", "source");
  }
};

template <>
struct Description<Enclosure> {
  static constexpr std::string_view name = "Enclosure";
  static constexpr std::string_view meaning = "A box, a bag or a case, and what is in it.";
  template <class Take>
  static void figures(Take take) {
    take("volume_m3", &Enclosure::volume_m3, "m3", "air inside");
    take("exchange_per_day", &Enclosure::exchange_per_day, "1/day", "air exchanged");
    take("gel_kg", &Enclosure::gel_kg, "kg", "dry gel");
    take("gel", &Enclosure::gel, "", "its isotherm; empty: kind not known");
    take("contents_g_per_rh", &Enclosure::contents_g_per_rh, "g per % RH",
         "water taken up by the contents");
    take("start_rh_percent", &Enclosure::start_rh_percent, "% RH", "humidity inside at the start");
    take("contents_kg", &Enclosure::contents_kg, "kg", "dry mass of contents with an isotherm");
    take("contents_rh_percent", &Enclosure::contents_rh_percent, "% RH", "its humidities");
    take("contents_moisture_percent", &Enclosure::contents_moisture_percent, "%",
         "its moisture, of the dry mass");
  }
};

template <>
struct Description<GelOutcome> {
  static constexpr std::string_view name = "GelOutcome";
  static constexpr std::string_view meaning = "What one isotherm says.";
  template <class Take>
  static void figures(Take take) {
    take("id", &GelOutcome::id, "", "gel", at_a_glance);
    take("days_to_limit", &GelOutcome::days_to_limit, "days", "until the limit", digits(3),
         at_a_glance);
    take("gel_for_visit_kg", &GelOutcome::gel_for_visit_kg, "kg", "dry gel that lasts to the visit",
         digits(3), at_a_glance);
  }
};

template <>
struct Description<EnclosureForecast> {
  static constexpr std::string_view name = "EnclosureForecast";
  static constexpr std::string_view meaning =
      "Humidity inside an enclosure, days to a limit and gel for a visit.";
  using F = EnclosureForecast;
  template <class Take>
  static void figures(Take take) {
    take("status", &F::status, "", "how it ended");
    take("message", &F::message, "", "why there is no more, or why never");
    take("days_to_limit", &F::days_to_limit, "days", "until the limit", at_a_glance);
    take("days_to_limit_half_exchange", &F::days_to_limit_half_exchange, "days",
         "the same with half the exchange", digits(3));
    take("probability_reached", &F::probability_reached, "",
         "probability that the limit is reached before the visit", chance, at_a_glance);
    take("days_unattended", &F::days_unattended, "days", "until 5 % of the draws have passed it",
         digits(3), at_a_glance);
    take("days_half_passed", &F::days_half_passed, "days", "until half of them have", digits(3));
    take("gel_for_visit_kg", &F::gel_for_visit_kg, "kg", "dry gel that lasts to the visit",
         at_a_glance);
    take("gel_for_visit_half_exchange_kg", &F::gel_for_visit_half_exchange_kg, "kg",
         "the same with half the exchange", digits(3));
    take("half_time_days", &F::half_time_days, "days", "half-time of the air alone, ln 2 / N",
         digits(3));
    take("buffered_half_time_days", &F::buffered_half_time_days, "days",
         "half-time with gel and contents, as at the start", digits(3));
    take("by_gel", &F::by_gel, "", "by each isotherm, where the kind of gel is not known");
    take("assumptions", &F::assumptions, "", "what is assumed");
    take("enclosure", &F::enclosure, "", "enclosure");
    take(
        "limit_rh_percent", [](const F& f) { return f.options.limit_rh_percent; }, "% RH", "limit");
    take(
        "visit_days", [](const F& f) { return f.options.days; }, "days", "time between two visits");
    take("days", &F::days, "days", "times of the curve");
    take("rh_percent", &F::rh_percent, "% RH", "humidity inside", digits(3));
    take("low_rh_percent", &F::low_rh_percent, "% RH", "low end of its range", digits(3));
    take("high_rh_percent", &F::high_rh_percent, "% RH", "high end of its range", digits(3));
  }
};

template <>
struct Description<Review> {
  static constexpr std::string_view name = "Review";
  static constexpr std::string_view meaning = "By when a box must be looked at again.";
  template <class Take>
  static void figures(Take take) {
    take("summary", &Review::summary, "", "in short", at_a_glance);
    take("review_date", &Review::review_date, "", "day of the review", at_a_glance);
    take("days_unattended", &Review::days_unattended, "days",
         "until 5 % of the draws have passed the limit", digits(3), at_a_glance);
    take("half_passed_date", &Review::half_passed_date, "", "day by which half of them have");
    take("days_half_passed", &Review::days_half_passed, "days", "until half of them have",
         digits(3));
    take("review_days", &Review::review_days, "days", "until the review", digits(3));
    take("passed", &Review::passed, "", "the limit is passed already");
    take("limit_rh_percent", &Review::limit_rh_percent, "% RH", "limit");
    take("limit_from", &Review::limit_from, "", "where the limit comes from");
    take("start_rh_percent", &Review::start_rh_percent, "% RH", "humidity inside at the start",
         digits(3));
    take("start_from_record", &Review::start_from_record, "",
         "the start is the last day of the record");
    take("start_s", &Review::start_s, "", "time of the start", moment, key("start"));
    take("forecast", &Review::forecast, "", "forecast of the box", apart);
  }
  static std::string said(const Review& review) { return review.summary; }
};

template <>
struct Description<ExchangeFit> {
  static constexpr std::string_view name = "ExchangeFit";
  static constexpr std::string_view meaning = "Exchange of air found in measurements.";
  using F = ExchangeFit;
  template <class Take>
  static void figures(Take take) {
    take("status", &F::status, "", "how it ended");
    take("message", &F::message, "", "why there is none");
    take("exchange_per_day", &F::exchange_per_day, "1/day", "air exchanged", at_a_glance,
         digits(3));
    take("low_per_day", &F::low_per_day, "1/day", "low end, 95 %", at_a_glance, digits(3));
    take("high_per_day", &F::high_per_day, "1/day", "high end, 95 %", at_a_glance, digits(3));
    take("relative_sd", &F::relative_sd, "", "standard error over the value", digits(2));
    take("residual_sd", &F::residual_sd, "", "spread of the readings about the curve", digits(2));
    take("readings", &F::readings, "", "readings");
  }
};

}  // namespace aeruca::detail
