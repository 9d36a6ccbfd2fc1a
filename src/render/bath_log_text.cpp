#include "render/bath_log_text.hpp"

#include <cmath>
#include <sstream>

#include "base/text.hpp"
#include "base/text_table.hpp"

namespace aeruca::detail {
namespace {

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
                 std::ostream& out) {
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
  out << aligned(rows) << '\n';
}

void print_summary(const BathSummary& summary, std::ostream& out) {
  out << "Extracted        " << with_error(summary.total_mg, summary.total_error_mg, "mg chloride");
  if (!std::isnan(summary.total_mg_per_g)) {
    out << ", "
        << with_error(summary.total_mg_per_g, summary.total_error_mg_per_g, "mg per g of object");
  }
  out << " (one standard error)\n";
  if (!std::isnan(summary.sqrt_line_residual)) {
    out << "Square-root line " << format_number(100 * summary.sqrt_line_residual, 2)
        << " % of the variance unexplained (a straight line tells neither D nor the load)\n";
  }
  if (!std::isnan(summary.late_ratio)) {
    out << "Late ratio       "
        << with_error(summary.late_ratio, summary.late_ratio_error, "of successive equal baths, ")
        << (summary.ratio_steady ? "steady" : "not steady") << '\n';
  }
  if (!std::isnan(summary.tail_mg)) {
    out << "Tail             at least " << format_number(summary.tail_mg, 3)
        << " mg still extractable (spread " << format_number(summary.tail_low_mg, 3) << " to "
        << (std::isfinite(summary.tail_high_mg) ? format_number(summary.tail_high_mg, 3)
                                                : "no limit")
        << " mg; a lower bound, low early)\n";
  }
  if (!std::isnan(summary.detection_mg)) {
    out << "One bath hides   up to " << format_number(summary.detection_mg, 3) << " mg";
    if (!std::isnan(summary.detection_mg_per_g)) {
      out << ", " << format_number(summary.detection_mg_per_g, 2) << " mg per g of object";
    }
    out << " (detection limit x volume)\n";
  }
}

void print_fit(const BathFit& fit, const BathFitOptions& options, std::ostream& out) {
  out << "\nDiffusion fit (" << to_string(options.body.shape) << ", load "
      << to_string(options.body.load) << ")\n";
  if (fit.status != Status::converged) {
    out << "  none: " << fit.message << '\n';
    if (!fit.forecast_reason.empty()) out << "\nForecast: " << fit.forecast_reason << '\n';
    return;
  }
  out << "  extractable at the start  " << in_words(fit.load_mg, "mg") << '\n'
      << "  rate D/L^2                " << in_words(fit.rate_per_day, "per day") << '\n'
      << "  share out                 " << in_words(fit.share_out_percent, "%") << '\n'
      << "  extractable still inside  " << in_words(fit.left_mg, "mg") << '\n';
  if (!std::isnan(fit.left_mg_per_g.median)) {
    out << "                            " << in_words(fit.left_mg_per_g, "mg per g of object")
        << '\n';
  }
  out << "  next reading              " << in_words(fit.next_reading_mg_per_l, "mg/L") << ", after "
      << format_number(fit.next_days, 3) << " days in " << format_number(fit.next_volume_l, 3)
      << " L, with the error of the instrument\n"
      << "  chi-squared               " << format_number(fit.chi_squared, 3) << " for "
      << fit.degrees_of_freedom << " degrees of freedom, p = " << format_number(fit.p_value, 2)
      << '\n'
      << "  quadrature                moves by " << format_number(100 * fit.convergence, 2)
      << " % on half the grid\n"
      << "  priors                    load log-uniform to "
      << format_number(options.load_factor_max, 3)
      << " times the extract; every share out as likely as any other (D t/L^2 of the log "
      << format_number(options.total_tau_min, 2) << " to "
      << format_number(options.total_tau_max, 3) << "); alpha";
  for (std::size_t a = 0; a < options.alphas.size(); ++a) {
    out << (a == 0 ? " " : ", ") << format_number(options.alphas[a], 3) << " (weight "
        << format_number(fit.partition_weights[a], 2) << ")";
  }
  out << "\n\nForecast: " << fit.forecast_reason << '\n';
  if (fit.forecast == ForecastKind::given || fit.forecast == ForecastKind::already_below) {
    out << "          " << format_number(fit.more_days.low, 3) << " to "
        << format_number(fit.more_days.high, 3) << " days, median "
        << format_number(fit.more_days.median, 3) << '\n';
  }
}

}  // namespace

std::string bath_log_text(const BathLog& log, const BathSummary& summary, const BathFit& fit,
                          const BathFitOptions& options) {
  std::ostringstream out;
  out << "Bath log " << log.file << ", " << log.baths.size() << " baths\n\n";
  print_baths(log, summary, fit, out);
  print_summary(summary, out);
  print_fit(fit, options, out);
  out << "\nA low bath reading is not an empty object; a solid reserve can give the same "
         "readings.\n";
  for (const auto& warning : summary.warnings) out << "! " << warning << '\n';
  for (const auto& warning : fit.warnings) out << "! " << warning << '\n';
  return out.str();
}

}  // namespace aeruca::detail
