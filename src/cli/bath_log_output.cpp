// aeruca bath log: the sums, the fit and the forecast of one log.

#include <cmath>

#include "base/text.hpp"
#include "cli/bath_output.hpp"
#include "cli/bath_words.hpp"

namespace aeruca::cli {
namespace {

using detail::format_number;

std::string with_error(double value, double error, const std::string& unit) {
  return format_number(value, 4) + " +/- " + format_number(error, 2) + " " + unit;
}

std::string in_words(const Range& range, const std::string& unit) {
  return format_number(range.median, 3) + " " + unit + "  (5-95 %: " + format_number(range.low, 3) +
         " to " + format_number(range.high, 3) + ")";
}

std::string reading_words(const BathRecord& bath) {
  if (bath.kind == ReadingKind::not_measured) return "-";
  return (bath.kind == ReadingKind::below_detection ? "< " : "") +
         format_number(bath.chloride_mg_per_l, 4);
}

void print_baths(const BathLog& log, const BathSummary& summary, const BathFit& fit,
                 Context& context) {
  std::vector<std::vector<std::string>> rows{{"bath", "from", "to", "L", "reading mg/L",
                                              "model mg/L", "extracted mg", "share %",
                                              "so far mg"}};
  for (std::size_t k = 0; k < log.baths.size(); ++k) {
    const BathRecord& bath = log.baths[k];
    const BathExtract& extract = summary.baths[k];
    const bool measured = bath.kind == ReadingKind::measured;
    rows.push_back(
        {std::to_string(k + 1), bath.start, bath.end, format_number(bath.volume_l, 4),
         reading_words(bath),
         fit.readings_mg_per_l.empty() ? "-" : format_number(fit.readings_mg_per_l[k].median, 3),
         measured ? format_number(extract.mg, 4) : "-",
         measured ? format_number(extract.share_percent, 3) : "-",
         format_number(extract.cumulative_mg, 4)});
  }
  context.out << aligned(rows) << '\n';
}

void print_summary(const BathSummary& summary, Context& context) {
  context.out << "Extracted        "
              << with_error(summary.total_mg, summary.total_error_mg, "mg chloride");
  if (!std::isnan(summary.total_mg_per_g)) {
    context.out << ", "
                << with_error(summary.total_mg_per_g, summary.total_error_mg_per_g,
                              "mg per g of object");
  }
  context.out << " (one standard error)\n";
  if (!std::isnan(summary.sqrt_line_residual)) {
    context.out
        << "Square-root line " << format_number(100 * summary.sqrt_line_residual, 2)
        << " % of the variance unexplained (a straight line tells neither D nor the load)\n";
  }
  if (!std::isnan(summary.late_ratio)) {
    context.out << "Late ratio       "
                << with_error(summary.late_ratio, summary.late_ratio_error,
                              "of successive equal baths, ")
                << (summary.ratio_steady ? "steady" : "not steady") << '\n';
  }
  if (!std::isnan(summary.tail_mg)) {
    context.out << "Tail             at least " << format_number(summary.tail_mg, 3)
                << " mg still extractable (spread " << format_number(summary.tail_low_mg, 3)
                << " to "
                << (std::isfinite(summary.tail_high_mg) ? format_number(summary.tail_high_mg, 3)
                                                        : "no limit")
                << " mg; a lower bound, low early)\n";
  }
  if (!std::isnan(summary.detection_mg)) {
    context.out << "One bath hides   up to " << format_number(summary.detection_mg, 3) << " mg";
    if (!std::isnan(summary.detection_mg_per_g)) {
      context.out << ", " << format_number(summary.detection_mg_per_g, 2) << " mg per g of object";
    }
    context.out << " (detection limit x volume)\n";
  }
}

void print_fit(const BathFit& fit, const LogRequest& request, Context& context) {
  context.out << "\nDiffusion fit (" << request.body.shape << ", load " << request.body.load
              << ")\n";
  if (fit.status != Status::converged) {
    context.out << "  none: " << fit.message << '\n';
    if (!fit.forecast_reason.empty()) context.out << "\nForecast: " << fit.forecast_reason << '\n';
    return;
  }
  context.out << "  extractable at the start  " << in_words(fit.load_mg, "mg") << '\n'
              << "  rate D/L^2                " << in_words(fit.rate_per_day, "per day") << '\n'
              << "  share out                 " << in_words(fit.share_out_percent, "%") << '\n'
              << "  extractable still inside  " << in_words(fit.left_mg, "mg") << '\n';
  if (!std::isnan(fit.left_mg_per_g.median)) {
    context.out << "                            "
                << in_words(fit.left_mg_per_g, "mg per g of object") << '\n';
  }
  context.out << "  next reading              " << in_words(fit.next_reading_mg_per_l, "mg/L")
              << ", after " << format_number(fit.next_days, 3) << " days in "
              << format_number(fit.next_volume_l, 3) << " L, with the error of the instrument\n"
              << "  chi-squared               " << format_number(fit.chi_squared, 3) << " for "
              << fit.degrees_of_freedom
              << " degrees of freedom, p = " << format_number(fit.p_value, 2) << '\n'
              << "  quadrature                moves by " << format_number(100 * fit.convergence, 2)
              << " % on half the grid\n"
              << "  priors                    load log-uniform to "
              << format_number(request.options.load_factor_max, 3)
              << " times the extract; every share out as likely as any other (D t/L^2 of the log "
              << format_number(request.options.total_tau_min, 2) << " to "
              << format_number(request.options.total_tau_max, 3) << "); alpha";
  for (std::size_t a = 0; a < request.options.alphas.size(); ++a) {
    context.out << (a == 0 ? " " : ", ") << format_number(request.options.alphas[a], 3)
                << " (weight " << format_number(fit.partition_weights[a], 2) << ")";
  }
  context.out << "\n\nForecast: " << fit.forecast_reason << '\n';
  if (fit.forecast == ForecastKind::given || fit.forecast == ForecastKind::already_below) {
    context.out << "          " << format_number(fit.more_days.low, 3) << " to "
                << format_number(fit.more_days.high, 3) << " days, median "
                << format_number(fit.more_days.median, 3) << '\n';
  }
}

Json json_of(const Range& range) {
  return {{"low", number_or_null(range.low)},
          {"median", number_or_null(range.median)},
          {"high", number_or_null(range.high)}};
}

Json json_of(const BathLog& log, const BathSummary& summary) {
  Json out{{"total_mg", summary.total_mg},
           {"total_error_mg", summary.total_error_mg},
           {"undetected_mg", summary.undetected_mg},
           {"total_mg_per_g", number_or_null(summary.total_mg_per_g)},
           {"total_error_mg_per_g", number_or_null(summary.total_error_mg_per_g)},
           {"detection_mg", number_or_null(summary.detection_mg)},
           {"detection_mg_per_g", number_or_null(summary.detection_mg_per_g)},
           {"sqrt_line_residual", number_or_null(summary.sqrt_line_residual)},
           {"slow_start", summary.slow_start},
           {"late_ratio", number_or_null(summary.late_ratio)},
           {"late_ratio_error", number_or_null(summary.late_ratio_error)},
           {"ratio_steady", summary.ratio_steady},
           {"tail_mg", number_or_null(summary.tail_mg)},
           {"tail_low_mg", number_or_null(summary.tail_low_mg)},
           {"tail_high_mg", number_or_null(summary.tail_high_mg)},
           {"warnings", summary.warnings}};
  for (std::size_t k = 0; k < log.baths.size(); ++k) {
    const BathRecord& bath = log.baths[k];
    const BathExtract& extract = summary.baths[k];
    out["baths"].push_back({{"start", bath.start},
                            {"end", bath.end},
                            {"volume_l", bath.volume_l},
                            {"kind", to_string(bath.kind)},
                            {"chloride_mg_per_l", number_or_null(bath.chloride_mg_per_l)},
                            {"extracted_mg", number_or_null(extract.mg)},
                            {"error_mg", number_or_null(extract.error_mg)},
                            {"cumulative_mg", extract.cumulative_mg},
                            {"share_percent", number_or_null(extract.share_percent)}});
  }
  return out;
}

Json json_of(const BathFit& fit) {
  Json out{{"status", to_string(fit.status)}, {"message", fit.message}};
  if (fit.degrees_of_freedom < 1 && fit.status != Status::converged) return out;
  out["load_mg"] = json_of(fit.load_mg);
  out["rate_per_day"] = json_of(fit.rate_per_day);
  out["left_mg"] = json_of(fit.left_mg);
  out["left_mg_per_g"] = json_of(fit.left_mg_per_g);
  out["share_out_percent"] = json_of(fit.share_out_percent);
  out["next_reading_mg_per_l"] = json_of(fit.next_reading_mg_per_l);
  out["next_volume_l"] = fit.next_volume_l;
  out["next_days"] = fit.next_days;
  out["chi_squared"] = fit.chi_squared;
  out["degrees_of_freedom"] = fit.degrees_of_freedom;
  out["p_value"] = number_or_null(fit.p_value);
  out["parameters"] = Json::array();
  for (const FittedParameter& parameter : fit.parameters) {
    out["parameters"].push_back({{"name", parameter.name},
                                 {"range", json_of(parameter.range)},
                                 {"prior_low", number_or_null(parameter.prior_low)},
                                 {"prior_high", number_or_null(parameter.prior_high)}});
  }
  out["partition_weights"] = fit.partition_weights;
  out["convergence"] = fit.convergence;
  out["forecast"] = {{"kind", to_string(fit.forecast)},
                     {"reason", fit.forecast_reason},
                     {"more_days", json_of(fit.more_days)},
                     {"more_baths", json_of(fit.more_baths)}};
  out["warnings"] = fit.warnings;
  return out;
}

}  // namespace

void print_log(const LogRequest& request, Context& context) {
  BathFitOptions options = request.options;
  options.body = request.body.body();
  const BathLog log = with_blank(read_bath_log(request.file), request.blank_mg_per_l);
  const BathSummary summary = summarise_bath_log(log, options.object_mass_g, options.errors);
  const BathFit fit = fit_bath_log(log, options);
  if (fit.status != Status::converged || fit.forecast == ForecastKind::refused)
    context.exit_code = kNoAnswer;
  if (context.json) {
    Json out{{"file", log.file}, {"summary", json_of(log, summary)}, {"fit", json_of(fit)}};
    add_data_line(out, context);
    context.out << out.dump(2) << '\n';
    return;
  }
  context.out << "Bath log " << log.file << ", " << log.baths.size() << " baths\n\n";
  print_baths(log, summary, fit, context);
  print_summary(summary, context);
  print_fit(fit, request, context);
  context.out << "\nA low bath reading is not an empty object; a solid reserve can give the same "
                 "readings.\n";
  for (const auto& warning : summary.warnings) context.out << "! " << warning << '\n';
  for (const auto& warning : fit.warnings) context.out << "! " << warning << '\n';
  print_data_line(context);
}

}  // namespace aeruca::cli
