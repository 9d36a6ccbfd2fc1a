#pragma once

// What `bath` says of a log, described once: the log, its sums, its fit.

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_log.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<BathRecord> {
  static constexpr std::string_view name = "BathRecord";
  static constexpr std::string_view meaning = "One bath of a log; units in the names.";
  using B = BathRecord;
  template <class Take>
  static void figures(Take take) {
    take("start", &B::start, "", "from");
    take("end", &B::end, "", "to");
    take("start_day", &B::start_day, "days", "from, days since 1970-01-01", digits(8), apart);
    take("end_day", &B::end_day, "days", "to, days since 1970-01-01", digits(8), apart);
    take("volume_l", &B::volume_l, "L", "volume");
    take("kind", &B::kind, "", "reading is");
    take("chloride_mg_per_l", &B::chloride_mg_per_l, "mg/L",
         "reading; the limit when below detection, the lower mark when between two");
    take("at_most_mg_per_l", known<&B::at_most_mg_per_l>(), "mg/L", "upper mark when between two");
    take("error_mg_per_l", &B::error_mg_per_l, "mg/L", "its standard error", digits(2));
    take("detection_limit_mg_per_l", &B::detection_limit_mg_per_l, "mg/L", "detection limit",
         digits(3));
    take("blank_mg_per_l", &B::blank_mg_per_l, "mg/L", "chloride of the fresh bath", digits(3));
    take("temperature_c", &B::temperature_c, "degrees C", "temperature", digits(3));
    take("ph", known<&B::ph>(), "", "pH as logged", digits(3));
    take("colour", &B::colour, "", "colour as logged");
    take("dilution", &B::dilution, "", "sample diluted");
    take("method", &B::method, "", "method");
    take("note", &B::note, "", "note");
    take("line", &B::line, "", "line of the file");
  }
};

template <>
struct Description<BathLog> {
  static constexpr std::string_view name = "BathLog";
  static constexpr std::string_view meaning = "A bath log as read.";
  template <class Take>
  static void figures(Take take) {
    take("file", &BathLog::file, "", "file");
    take("baths", &BathLog::baths, "", "baths");
    take("warnings", &BathLog::warnings, "", "what the reader must know besides");
  }
  static std::string said(const BathLog& log) {
    return log.file + ", " + std::to_string(log.baths.size()) + " baths";
  }
};

template <>
struct Description<ReadingErrors> {
  static constexpr std::string_view name = "ReadingErrors";
  static constexpr std::string_view meaning =
      "How good readings are where the log does not say (standard errors).";
  template <class Take>
  static void figures(Take take) {
    take("relative", &ReadingErrors::relative, "", "of a reading, relative", digits(2));
    take("absolute_mg_per_l", &ReadingErrors::absolute_mg_per_l, "mg/L",
         "of a reading, at least; 0: the detection limit over 3.3", digits(2));
    take("volume_relative", &ReadingErrors::volume_relative, "", "of a volume, relative",
         digits(2));
  }
};

template <>
struct Description<BathExtract> {
  static constexpr std::string_view name = "BathExtract";
  static constexpr std::string_view meaning = "What one bath took out (mg).";
  using E = BathExtract;
  template <class Take>
  static void figures(Take take) {
    take("mg", &E::mg, "mg", "chloride out", key("extracted_mg"));
    take("error_mg", &E::error_mg, "mg", "standard error", digits(2));
    take("most_mg", &E::most_mg, "mg", "at most");
    take("cumulative_mg", &E::cumulative_mg, "mg", "sum");
    take("cumulative_error_mg", &E::cumulative_error_mg, "mg", "its standard error", digits(2));
    take("share_percent", &E::share_percent, "%", "share of the total", digits(3));
    take("sqrt_days", &E::sqrt_days, "days^0.5", "square root of the bath time");
  }
};

template <>
struct Description<BathSummary> {
  static constexpr std::string_view name = "BathSummary";
  static constexpr std::string_view meaning =
      "Sums, shares, straightness, late ratio and tail of a bath log.";
  using S = BathSummary;
  template <class Take>
  static void figures(Take take) {
    take("total_mg", &S::total_mg, "mg", "chloride out in all", at_a_glance);
    take("total_error_mg", &S::total_error_mg, "mg", "its standard error", digits(2), at_a_glance);
    take("undetected_mg", &S::undetected_mg, "mg", "at most besides, in baths below detection");
    take("total_mg_per_g", &S::total_mg_per_g, "mg/g", "per gram of object", at_a_glance);
    take("total_error_mg_per_g", &S::total_error_mg_per_g, "mg/g", "its standard error", digits(2));
    take("detection_mg", &S::detection_mg, "mg", "one bath like the last can hide");
    take("detection_mg_per_g", &S::detection_mg_per_g, "mg/g", "per gram of object", digits(2));
    take("sqrt_line_residual", &S::sqrt_line_residual, "",
         "share of variance that a line against square-root time leaves", digits(2));
    take("slow_start", &S::slow_start, "", "slow start");
    take("late_ratio", &S::late_ratio, "", "late ratio of successive equal baths", at_a_glance);
    take("late_ratio_error", &S::late_ratio_error, "", "its standard error", digits(2));
    take("ratio_steady", &S::ratio_steady, "", "the ratio is steady");
    take("tail_mg", &S::tail_mg, "mg", "still extractable, at least", digits(3), at_a_glance);
    take("tail_low_mg", &S::tail_low_mg, "mg", "spread of that from", digits(3));
    take("tail_high_mg", &S::tail_high_mg, "mg", "to", digits(3));
    take("baths", &S::baths, "", "baths");
    take("warnings", &S::warnings, "", "what the reader must know besides");
  }
  static std::string said(const S& summary) {
    return std::to_string(summary.baths.size()) + " baths, " + format_number(summary.total_mg, 3) +
           " ± " + format_number(summary.total_error_mg, 2) + " mg chloride out";
  }
};

template <>
struct Description<Range> {
  static constexpr std::string_view name = "Range";
  static constexpr std::string_view meaning = "Median and 5-95 % range.";
  template <class Take>
  static void figures(Take take) {
    take("low", &Range::low, "", "5 %", digits(3));
    take("median", &Range::median, "", "median", digits(3));
    take("high", &Range::high, "", "95 %", digits(3));
  }
  static std::string said(const Range& range, const Label& label) {
    if (std::isnan(range.median)) return "not known";
    return format_number(range.median, 3) +
           (label.unit.empty() ? "" : " " + std::string(label.unit)) + " (" +
           format_number(range.low, 3) + " to " + format_number(range.high, 3) + ")";
  }
};

template <>
struct Description<FittedParameter> {
  static constexpr std::string_view name = "FittedParameter";
  static constexpr std::string_view meaning =
      "What a log says of one parameter, beside what was held possible before.";
  using P = FittedParameter;
  template <class Take>
  static void figures(Take take) {
    take("name", &P::name, "", "parameter");
    take("range", &P::range, "", "median (5 to 95 %)");
    take("prior_low", &P::prior_low, "", "held possible from", digits(3));
    take("prior_high", &P::prior_high, "", "to", digits(3));
  }
};

template <>
struct Description<BathFit> {
  static constexpr std::string_view name = "BathFit";
  static constexpr std::string_view meaning =
      "What a bath log says of the chloride still inside; ranges are 5-95 %.";
  using F = BathFit;
  template <class Take>
  static void figures(Take take) {
    take("status", &F::status, "", "fit");
    take("message", &F::message, "", "in words");
    figures_of_ranges(take);
    figures_of_fit(take);
    take("forecast", &F::forecast, "", "forecast");
    take("forecast_reason", &F::forecast_reason, "", "because");
    take("more_days", &F::more_days, "days", "until the stop level, median (5 to 95 %)");
    take("more_baths", &F::more_baths, "", "baths until then");
    take("parameters", &F::parameters, "", "parameters of the model");
    take("warnings", &F::warnings, "", "what the reader must know besides");
  }
  static std::string said(const F& fit) {
    return std::string(to_string(fit.status)) + ": " + fit.message;
  }

 private:
  template <class Take>
  static void figures_of_ranges(Take& take) {
    take("load_mg", &F::load_mg, "mg", "extractable at the start, median (5 to 95 %)", at_a_glance);
    take("rate_per_day", &F::rate_per_day, "1/day", "rate D/L^2", at_a_glance);
    take("left_mg", &F::left_mg, "mg", "extractable still inside", at_a_glance);
    take("left_mg_per_g", &F::left_mg_per_g, "mg/g", "per gram of object");
    take("share_out_percent", &F::share_out_percent, "%", "share out", at_a_glance);
    take("next_reading_mg_per_l", &F::next_reading_mg_per_l, "mg/L", "next reading", at_a_glance);
    take("next_mean_mg_per_l", &F::next_mean_mg_per_l, "mg/L",
         "next bath, without the error of the reading");
    take("next_volume_l", &F::next_volume_l, "L", "volume of the next bath");
    take("next_days", &F::next_days, "days", "length of the next bath");
    take("stop_mg_per_l", known<&F::stop_mg_per_l>(), "mg/L",
         "stop level asked about, above the blank");
    take("readings_mg_per_l", &F::readings_mg_per_l, "mg/L", "true reading of each bath", apart);
  }
  template <class Take>
  static void figures_of_fit(Take& take) {
    take("chi_squared", &F::chi_squared, "", "chi-squared", digits(3));
    take("degrees_of_freedom", &F::degrees_of_freedom, "", "degrees of freedom");
    take("p_value", &F::p_value, "", "probability of a worse fit by chance", digits(2));
    take("partition_weights", &F::partition_weights, "", "weights of the partition values",
         digits(2));
    take("convergence", &F::convergence, "", "relative change with half the grid", digits(2));
    take("prior_edge", &F::prior_edge, "", "probability near an edge of the prior", digits(2));
  }
};

}  // namespace aeruca::detail
