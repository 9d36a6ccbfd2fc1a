#include "render/bath_log_text.hpp"

#include <cmath>
#include <sstream>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

std::string with_error(double value, double error) {
  return format_number(value, 4) + " +/- " + format_number(error, 2);
}

std::string in_words(const Range& range, const std::string& unit) {
  return say("page.bath.range", {{"median", format_number(range.median, 3) + " " + unit},
                                 {"low", format_number(range.low, 3)},
                                 {"high", format_number(range.high, 3)}});
}

std::string reading_words(const BathRecord& bath) {
  if (bath.kind == ReadingKind::not_measured) return "-";
  if (bath.kind == ReadingKind::between)
    return between_text(bath.chloride_mg_per_l, bath.at_most_mg_per_l);
  return (bath.kind == ReadingKind::below_detection ? "< " : "") +
         format_number(bath.chloride_mg_per_l, 4);
}

void print_baths(const BathLog& log, const BathSummary& summary, const BathFit& fit,
                 std::ostream& out) {
  std::vector<std::vector<std::string>> rows{{say("column.bath"), say("column.from"),
                                              say("page.bath.to"), "L", say("page.bath.reading"),
                                              say("page.bath.model"), say("page.bath.extracted_mg"),
                                              say("page.bath.share"), say("column.so_far_mg")}};
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

// A labelled line; what follows it stands under its text.
void line(std::ostream& out, std::size_t width, const std::string& label, const std::string& text) {
  out << padded(label, width) << text << '\n';
}

void print_summary(const BathSummary& summary, std::ostream& out) {
  constexpr std::size_t kLabel = 17;
  std::string extracted =
      say("page.bath.chloride", {{"mg", with_error(summary.total_mg, summary.total_error_mg)}});
  if (!std::isnan(summary.total_mg_per_g)) {
    extracted +=
        ", " +
        say("page.bath.per_gram",
            {{"mg_per_g", with_error(summary.total_mg_per_g, summary.total_error_mg_per_g)}});
  }
  line(out, kLabel, say("page.bath.extracted"), extracted + " " + say("page.bath.standard_error"));
  if (!std::isnan(summary.sqrt_line_residual)) {
    line(out, kLabel, say("page.bath.square_root_line"),
         say("page.bath.unexplained",
             {{"percent", format_number(100 * summary.sqrt_line_residual, 2)}}));
  }
  if (!std::isnan(summary.late_ratio)) {
    line(out, kLabel, say("page.bath.late_ratio"),
         say(summary.ratio_steady ? "page.bath.ratio_steady" : "page.bath.ratio_not_steady",
             {{"ratio", with_error(summary.late_ratio, summary.late_ratio_error)}}));
  }
  if (!std::isnan(summary.tail_mg)) {
    line(out, kLabel, say("page.bath.tail"),
         say("page.bath.still_extractable",
             {{"mg", format_number(summary.tail_mg, 3)},
              {"low", format_number(summary.tail_low_mg, 3)},
              {"high", std::isfinite(summary.tail_high_mg) ? format_number(summary.tail_high_mg, 3)
                                                           : say("page.bath.no_limit")}}));
  }
  if (!std::isnan(summary.detection_mg)) {
    std::string hidden = say("page.bath.up_to", {{"mg", format_number(summary.detection_mg, 3)}});
    if (!std::isnan(summary.detection_mg_per_g)) {
      hidden += ", " + say("page.bath.per_gram",
                           {{"mg_per_g", format_number(summary.detection_mg_per_g, 2)}});
    }
    line(out, kLabel, say("page.bath.hides"), hidden + " " + say("page.bath.limit_times_volume"));
  }
}

void print_forecast(const BathFit& fit, std::ostream& out) {
  const std::string label = say("page.bath.forecast");
  out << '\n' << label << fit.forecast_reason << '\n';
  if (fit.forecast != ForecastKind::given && fit.forecast != ForecastKind::already_below) return;
  line(out, characters(label), "",
       say("page.bath.days", {{"low", format_number(fit.more_days.low, 3)},
                              {"high", format_number(fit.more_days.high, 3)},
                              {"median", format_number(fit.more_days.median, 3)}}));
}

std::string priors_words(const BathFit& fit, const BathFitOptions& options) {
  std::vector<std::string> alphas;
  for (std::size_t a = 0; a < options.alphas.size(); ++a) {
    alphas.push_back(
        say("page.bath.alpha", {{"alpha", format_number(options.alphas[a], 3)},
                                {"weight", format_number(fit.partition_weights[a], 2)}}));
  }
  return say("page.bath.priors_words", {{"factor", format_number(options.load_factor_max, 3)},
                                        {"low", format_number(options.total_tau_min, 2)},
                                        {"high", format_number(options.total_tau_max, 3)},
                                        {"alphas", join(alphas, ", ")}});
}

void print_fit(const BathFit& fit, const BathFitOptions& options, std::ostream& out) {
  constexpr std::size_t kLabel = 28;
  const auto entry = [&](std::string_view key, const std::string& text) {
    line(out, kLabel, "  " + say(key), text);
  };
  out << '\n'
      << say("page.bath.fit", {{"shape", std::string(to_string(options.body.shape))},
                               {"load", std::string(to_string(options.body.load))}})
      << '\n';
  if (fit.status != Status::converged) {
    out << "  " << say("page.bath.none", {{"reason", fit.message}}) << '\n';
    if (!fit.forecast_reason.empty()) print_forecast(fit, out);
    return;
  }
  entry("page.bath.load", in_words(fit.load_mg, "mg"));
  entry("page.bath.rate", in_words(fit.rate_per_day, say("page.bath.per_day")));
  entry("page.bath.share_out", in_words(fit.share_out_percent, "%"));
  entry("page.bath.left", in_words(fit.left_mg, "mg"));
  if (!std::isnan(fit.left_mg_per_g.median))
    line(out, kLabel, "", in_words(fit.left_mg_per_g, say("page.bath.mg_per_g")));
  entry("page.bath.next_reading", say("page.bath.next_reading_words",
                                      {{"reading", in_words(fit.next_reading_mg_per_l, "mg/L")},
                                       {"days", format_number(fit.next_days, 3)},
                                       {"litres", format_number(fit.next_volume_l, 3)}}));
  entry("page.bath.chi_squared",
        say("page.bath.chi_squared_words", {{"chi_squared", format_number(fit.chi_squared, 3)},
                                            {"freedom", std::to_string(fit.degrees_of_freedom)},
                                            {"p_value", format_number(fit.p_value, 2)}}));
  entry("page.bath.quadrature",
        say("page.bath.quadrature_words", {{"percent", format_number(100 * fit.convergence, 2)}}));
  entry("page.bath.priors", priors_words(fit, options));
  print_forecast(fit, out);
}

}  // namespace

std::string bath_log_text(const BathLog& log, const BathSummary& summary, const BathFit& fit,
                          const BathFitOptions& options) {
  std::ostringstream out;
  out << say("page.bath.log", {{"file", log.file}, {"baths", std::to_string(log.baths.size())}})
      << "\n\n";
  print_baths(log, summary, fit, out);
  print_summary(summary, out);
  print_fit(fit, options, out);
  out << '\n' << say("page.bath.low_reading") << '\n' << say("page.bath.one_model") << '\n';
  for (const auto& warning : summary.warnings) out << "! " << warning << '\n';
  for (const auto& warning : fit.warnings) out << "! " << warning << '\n';
  return out.str();
}

}  // namespace aeruca::detail
