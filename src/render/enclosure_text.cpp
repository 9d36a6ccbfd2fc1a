#include <algorithm>
#include <cmath>
#include <vector>

#include "base/text_table.hpp"
#include "render/describe_enclosure.hpp"
#include "render/enclosure_report.hpp"
#include "render/json.hpp"
#include "render/sheet.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kWidth = 96;
constexpr std::size_t kShownTimes = 8;

std::string number(double value, int digits = 3) {
  return format_number(value, digits);
}
// "never" and "not known" are figures too.
std::string figure(double value) {
  if (std::isinf(value)) return say("word.never");
  return std::isnan(value) ? say("word.not_known") : number(value);
}
std::string open_ended(double value, std::string_view unit) {
  return std::isfinite(value) ? with_unit(number(value), unit) : figure(value);
}

std::string box_line(const EnclosureForecast& f) {
  const Enclosure& box = f.enclosure;
  return say("page.enclosure.box",
             {{"volume", number(box.volume_m3, 4)},
              {"exchange", number(box.exchange_per_day, 3)},
              {"gel_kg", number(box.gel_kg, 3)},
              {"gel", box.gel.empty() ? say("page.enclosure.any_gel") : box.gel},
              {"start", number(box.start_rh_percent, 3)}}) +
         "\n";
}

// Days left alone: those that 95 of 100 draws last, so that nobody comes too late.
std::string unattended_line(const EnclosureForecast& f) {
  if (!std::isfinite(f.days_unattended)) return {};
  return "  " +
         say("page.enclosure.unattended", {{"days", number(std::floor(f.days_unattended))}}) + "\n";
}

// What each isotherm says, where the kind is not known.
std::string gels_table(const EnclosureForecast& f) {
  if (f.by_gel.empty()) return {};
  std::vector<std::vector<std::string>> rows{{say("page.enclosure.column.gel"),
                                              say("page.enclosure.column.days_to_limit"),
                                              say("page.enclosure.column.gel_kg")}};
  for (const GelOutcome& gel : f.by_gel)
    rows.push_back({gel.id, figure(gel.days_to_limit), figure(gel.gel_for_visit_kg)});
  return "\n" + aligned(rows);
}

std::string limit_lines(const EnclosureForecast& f) {
  if (std::isnan(f.options.limit_rh_percent)) return {};
  const std::string limit = number(f.options.limit_rh_percent, 4);
  const std::string visit = number(f.options.days, 4);
  std::string text = say("page.enclosure.limit", {{"limit", limit}}) + "\n  " +
                     say("page.enclosure.days", {{"days", drawn_text(f.days_to_limit, "days")}}) +
                     "\n" + unattended_line(f);
  if (!std::isnan(f.probability_reached))
    text += "  " +
            say("page.enclosure.probability",
                {{"days", visit}, {"probability", probability_text(f.probability_reached)}}) +
            "\n";
  text +=
      "  " +
      say("page.enclosure.gel", {{"days", visit}, {"mass", drawn_text(f.gel_for_visit_kg, "kg")}}) +
      "\n  " +
      say("page.enclosure.half_exchange",
          {{"days", open_ended(f.days_to_limit_half_exchange, "days")},
           {"mass", open_ended(f.gel_for_visit_half_exchange_kg, "kg")}}) +
      "\n";
  return text;
}

std::string curve_table(const EnclosureForecast& f) {
  std::vector<std::vector<std::string>> rows{
      {say("page.enclosure.column.days"), say("page.enclosure.column.rh")}};
  for (std::size_t k = 0; k <= kShownTimes; ++k) {
    const std::size_t i = k * (f.days.size() - 1) / kShownTimes;
    const bool ranged = i < f.low_rh_percent.size();
    rows.push_back(
        {number(f.days[i], 4), range_text(f.rh_percent[i], ranged ? f.low_rh_percent[i] : kNotGiven,
                                          ranged ? f.high_rh_percent[i] : kNotGiven)});
  }
  return aligned(rows);
}

}  // namespace

std::string drawn_text(const DrawnFigure& figure, std::string_view unit) {
  const auto text = [](double value) {
    return std::isinf(value) ? say("word.never") : number(value);
  };
  if (std::isnan(figure.value)) return say("word.not_known");
  if (std::isnan(figure.low)) return open_ended(figure.value, unit);
  return say("number.range", {{"value", text(figure.value)},
                              {"low", text(figure.low)},
                              {"high", text(figure.high)}}) +
         (std::isinf(figure.value) ? "" : " " + std::string(unit));
}

std::string exchange_text(const ExchangeFit& fit) {
  if (fit.status != Status::converged) return fit.message + "\n";
  return say("page.enclosure.exchange",
             {{"exchange", range_text(fit.exchange_per_day, fit.low_per_day, fit.high_per_day)},
              {"readings", std::to_string(fit.readings)}}) +
         "\n";
}

std::string box_text(const Review& review, const std::optional<ExchangeFit>& fit) {
  const EnclosureForecast& f = review.forecast;
  std::string text = fit ? exchange_text(*fit) : "";
  text +=
      box_line(f) +
      say("page.enclosure.half_times", {{"air", open_ended(f.half_time_days, "days")},
                                        {"all", open_ended(f.buffered_half_time_days, "days")}}) +
      "\n\n";
  text += limit_lines(f);
  if (!f.message.empty()) text += paragraph(f.message, kWidth, "  ");
  text += gels_table(f) + "\n" + curve_table(f) + "\n" + say("page.enclosure.assumed") + "\n";
  for (const std::string& one : f.assumptions) text += paragraph(one, kWidth, "  - ");
  return text;
}

std::string enclosure_text(const Review& review, const std::optional<ExchangeFit>& fit) {
  const std::string summary =
      review.summary.empty() ? "" : paragraph(review.summary, kWidth, "") + "\n";
  return summary + box_text(review, fit);
}

Json box_json(const Review& review, const std::optional<ExchangeFit>& fit) {
  Json json = Json::object();
  json["exchange"] = fit ? json_of(*fit) : Json(nullptr);
  json["forecast"] = json_of(review.forecast);
  json["review"] = json_of(review);
  return json;
}

std::string enclosure_json(const Review& review, const std::optional<ExchangeFit>& fit,
                           const Dataset& dataset) {
  Json json = box_json(review, fit);
  json["data_set"] = data_set_json(dataset);
  return document_text(json);
}

}  // namespace aeruca::detail
