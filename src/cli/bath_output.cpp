#include "cli/bath_output.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "cli/bath_words.hpp"

namespace aeruca::cli {

using detail::format_number;

void print_data_line(Context& context) {
  const auto data = context.dataset();
  context.out << "\nData set " << data->version << " (content " << data->content_hash
              << "); the bath part uses none of its figures.\n";
}

void add_data_line(Json& out, Context& context) {
  const auto data = context.dataset();
  out["data_set"] = {{"version", data->version}, {"content_hash", data->content_hash}};
  out["uses_dataset_figures"] = false;
}

namespace {

const char* const kModelLimits =
    "Model: one diffusion coefficient, linear partition, no solid reserve, no layer lost. A low "
    "bath reading is\n"
    "not an empty object.\n";

struct ForecastRun {
  PorousBody body;
  std::vector<BathStep> steps;
  std::vector<double> days;
  double rate_per_day = 0;
  double alpha_known = 0;
  BathSeries series;
};

double rate_of(const ForecastRequest& request) {
  if (!std::isnan(request.rate_per_day)) return request.rate_per_day;
  const double metres = request.thickness_mm * 1e-3;
  if (!(request.thickness_mm > 0))
    throw InputError("--thickness-mm", request.thickness_mm, "above 0");
  return request.d_m2_per_s * 86400 / (metres * metres);
}

ForecastRun run_forecast(const ForecastRequest& request) {
  ForecastRun run;
  run.body = request.body.body();
  run.rate_per_day = rate_of(request);
  if (!(run.rate_per_day > 0)) throw InputError("D/L^2", run.rate_per_day, "above 0 per day");
  if (!(request.load_mg > 0)) throw InputError("--load-mg", request.load_mg, "above 0");
  run.days = request.days;
  if (run.days.size() == 1) run.days.assign(request.volumes_l.size(), request.days.front());
  if (run.days.size() != request.volumes_l.size()) {
    throw InputError(
        "--days", std::to_string(request.days.size()) + " values",
        "one value, or as many as --volumes-l (" + std::to_string(request.volumes_l.size()) + ")");
  }
  if (!std::isnan(request.capacity_l) && !(request.capacity_l > 0)) {
    throw InputError("--capacity-l", request.capacity_l, "above 0");
  }
  for (std::size_t k = 0; k < run.days.size(); ++k) {
    const double volume = request.volumes_l[k];
    if (!(volume > 0)) throw InputError("--volumes-l", volume, "above 0");
    const double alpha = std::isnan(request.capacity_l) ? std::numeric_limits<double>::infinity()
                                                        : volume / request.capacity_l;
    run.steps.push_back({alpha, run.rate_per_day * run.days[k],
                         request.fill_mg_per_l * volume / request.load_mg,
                         k == 0 ? 0 : request.carry_over});
  }
  run.series = bath_series(run.body, run.steps);
  return run;
}

Json json_of(const ForecastRequest& request, const ForecastRun& run) {
  Json out;
  out["model"] = {{"shape", request.body.shape},
                  {"load", request.body.load},
                  {"rate_per_day", run.rate_per_day},
                  {"load_mg", request.load_mg}};
  out["truncation_error"] = run.series.truncation_error;
  for (std::size_t k = 0; k < run.steps.size(); ++k) {
    const BathPoint& end = run.series.ends[k];
    out["baths"].push_back(
        {{"days", run.days[k]},
         {"volume_l", request.volumes_l[k]},
         {"tau_total", end.tau},
         {"alpha", number_or_null(run.steps[k].alpha)},
         {"chloride_mg_per_l", end.in_bath * request.load_mg / request.volumes_l[k]},
         {"in_bath_mg", end.in_bath * request.load_mg},
         {"left_mg", end.left * request.load_mg},
         {"left_fraction", end.left}});
  }
  return out;
}

}  // namespace

void print_forecast(const ForecastRequest& request, Context& context) {
  const ForecastRun run = run_forecast(request);
  if (context.json) {
    Json out = json_of(request, run);
    add_data_line(out, context);
    context.out << out.dump(2) << '\n';
    return;
  }
  context.out << "Bath forecast by diffusion alone: " << request.body.shape << ", load "
              << request.body.load << ", D/L^2 " << format_number(run.rate_per_day, 4)
              << " per day, " << format_number(request.load_mg, 4)
              << " mg chloride inside at the start\n\n";
  std::vector<std::vector<std::string>> rows{{"bath", "days", "volume L", "alpha", "reading mg/L",
                                              "bath holds mg", "left inside mg", "left %"}};
  for (std::size_t k = 0; k < run.steps.size(); ++k) {
    const BathPoint& end = run.series.ends[k];
    rows.push_back({std::to_string(k + 1), format_number(run.days[k], 4),
                    format_number(request.volumes_l[k], 4), format_number(run.steps[k].alpha, 3),
                    format_number(end.in_bath * request.load_mg / request.volumes_l[k], 4),
                    format_number(end.in_bath * request.load_mg, 4),
                    format_number(end.left * request.load_mg, 4),
                    format_number(100 * end.left, 4)});
  }
  context.out << aligned(rows) << "\nAmounts are right to "
              << format_number(std::max(run.series.truncation_error, 1e-14) * request.load_mg, 2)
              << " mg for this model; what is put in decides the rest.\n"
              << kModelLimits;
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
             {"alpha", number_or_null(request.alpha)},
             {"same_liquid", request.same_liquid}};
    for (const BathPlan& plan : comparison.plans) {
      out["plans"].push_back({{"baths", plan.baths},
                              {"left_fraction", plan.left},
                              {"equilibrium_fraction", plan.equilibrium}});
    }
    out["endless_fresh_water_fraction"] = comparison.endless_left;
    add_data_line(out, context);
    context.out << out.dump(2) << '\n';
    return;
  }
  context.out << "What is left inside after D t / L^2 = " << format_number(tau, 4) << " ("
              << request.body.shape << ", load " << request.body.load << ", alpha "
              << format_number(request.alpha, 4)
              << (request.same_liquid ? ", divided over the baths" : " each") << ")\n\n";
  std::vector<std::vector<std::string>> rows{{"baths", "left %", "left % in endless time"}};
  for (const BathPlan& plan : comparison.plans) {
    rows.push_back({std::to_string(plan.baths), format_number(100 * plan.left, 3),
                    format_number(100 * plan.equilibrium, 3)});
  }
  context.out << aligned(rows)
              << "  endless fresh water: " << format_number(100 * comparison.endless_left, 3)
              << " %\n\n";
  context.out << comparison.finding << '\n' << kModelLimits;
  print_data_line(context);
}

}  // namespace aeruca::cli
