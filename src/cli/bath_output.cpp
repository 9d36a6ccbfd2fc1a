#include "cli/bath_output.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "aeruca/bath_forecast.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "cli/bath_words.hpp"
#include "render/describe_bath_making.hpp"
#include "render/json.hpp"

namespace aeruca::cli {

using detail::format_number;
using detail::say;

void print_data_line(Context& context) {
  const auto data = context.dataset();
  context.out << '\n'
              << say("page.bath.data_set",
                     {{"version", data->version}, {"hash", data->content_hash}})
              << '\n';
}

void add_data_line(Json& out, Context& context) {
  const auto data = context.dataset();
  out["data_set"] = {{"version", data->version}, {"content_hash", data->content_hash}};
  out["uses_dataset_figures"] = false;
}

std::string option_named(std::string parameter) {
  std::replace(parameter.begin(), parameter.end(), '_', '-');
  return "--" + parameter;
}

namespace {

void print_model_limits(Context& context) {
  constexpr std::size_t kWidth = 108;
  context.out << detail::paragraph(say("page.bath.model_limits"), kWidth);
}

// Errors name the option as it was typed: "volumes_l" -> "--volumes-l".
[[noreturn]] void rethrow(const InputError& problem) {
  if (problem.parameter == "rate_per_day")
    throw InputError("D/L^2", problem.value, "above 0 per day");
  const std::string list = "volumes_l";
  std::string accepted = problem.accepted;
  const std::size_t at = accepted.find(list);
  if (at != std::string::npos) accepted.replace(at, list.size(), "--volumes-l");
  throw InputError(option_named(problem.parameter), problem.value, accepted);
}

BathForecast forecast_of(const ForecastRequest& asked) try {
  BathForecastRequest request;
  request.body = asked.body.body();
  request.rate_per_day = std::isnan(asked.rate_per_day)
                             ? diffusion_rate_per_day(asked.d_m2_per_s, asked.thickness_mm)
                             : asked.rate_per_day;
  request.load_mg = asked.load_mg;
  request.volumes_l = asked.volumes_l;
  request.days = asked.days;
  request.capacity_l = asked.capacity_l;
  request.fill_mg_per_l = asked.fill_mg_per_l;
  request.carry_over = asked.carry_over;
  return forecast_baths(request);
} catch (const InputError& problem) {
  rethrow(problem);
}

// A document of the bath part: the result as described, then the data set.
void print_document(Json json, Context& context) {
  add_data_line(json, context);
  context.out << detail::document_text(json);
}

}  // namespace

void print_forecast(const ForecastRequest& request, Context& context) {
  const BathForecast forecast = forecast_of(request);
  if (context.json) return print_document(detail::json_of(forecast), context);
  context.out << say("page.forecast.title",
                     {{"shape", request.body.shape},
                      {"load", request.body.load},
                      {"rate_per_day", format_number(forecast.rate_per_day, 4)},
                      {"mg", format_number(forecast.load_mg, 4)}})
              << "\n\n";
  std::vector<std::vector<std::string>> rows{
      {say("column.bath"), say("column.days"), say("page.forecast.volume"), "alpha",
       say("page.bath.reading"), say("page.forecast.in_bath"), say("page.forecast.left_mg"),
       say("page.forecast.left_percent")}};
  for (const ForecastBath& bath : forecast.baths) {
    rows.push_back({std::to_string(rows.size()), format_number(bath.days, 4),
                    format_number(bath.volume_l, 4), format_number(bath.alpha, 3),
                    format_number(bath.chloride_mg_per_l, 4), format_number(bath.in_bath_mg, 4),
                    format_number(bath.left_mg, 4), format_number(100 * bath.left_fraction, 4)});
  }
  context.out << aligned(rows) << '\n'
              << say("page.forecast.right_to", {{"mg", format_number(forecast.error_mg, 2)}})
              << '\n';
  print_model_limits(context);
  print_data_line(context);
}

void print_plan(const PlanRequest& request, Context& context) {
  const double tau =
      std::isnan(request.total_tau) ? request.rate_per_day * request.total_days : request.total_tau;
  if (!(tau > 0)) throw InputError("--tau", tau, "above 0");
  const BathComparison comparison =
      compare_bath_counts(request.body.body(), request.alpha, tau, request.counts,
                          request.same_liquid ? BathLiquid::divided : BathLiquid::each);
  if (context.json) {
    Json out{{"total_tau", tau},
             {"alpha", detail::number_or_null(request.alpha)},
             {"same_liquid", request.same_liquid}};
    out.update(detail::json_of(comparison));
    return print_document(std::move(out), context);
  }
  context.out << say(request.same_liquid ? "page.plan.title_divided" : "page.plan.title_each",
                     {{"tau", format_number(tau, 4)},
                      {"shape", request.body.shape},
                      {"load", request.body.load},
                      {"alpha", format_number(request.alpha, 4)}})
              << "\n\n";
  std::vector<std::vector<std::string>> rows{
      {say("page.plan.baths"), say("page.forecast.left_percent"), say("page.plan.left_endless")}};
  for (const BathPlan& plan : comparison.plans) {
    rows.push_back({std::to_string(plan.baths), format_number(100 * plan.left, 3),
                    format_number(100 * plan.equilibrium, 3)});
  }
  context.out << aligned(rows) << "  "
              << say("page.plan.endless_water",
                     {{"percent", format_number(100 * comparison.endless_left, 3)}})
              << "\n\n"
              << comparison.finding << '\n';
  print_model_limits(context);
  print_data_line(context);
}

}  // namespace aeruca::cli
