#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <utility>

#include "aeruca/bath_log.hpp"
#include "aeruca/not_given.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "numerics/normal.hpp"

namespace aeruca {
namespace {

BathExtract extract_of(const BathRecord& bath, const ReadingErrors& errors) {
  BathExtract extract;
  if (bath.kind == ReadingKind::not_measured) {
    extract.mg = extract.error_mg = extract.most_mg = kNotGiven;
  } else if (bath.kind == ReadingKind::below_detection) {
    extract.most_mg = bath.chloride_mg_per_l * bath.volume_l;
  } else if (bath.kind == ReadingKind::between) {
    extract.mg = std::max(0.0, bath.chloride_mg_per_l - bath.blank_or_zero()) * bath.volume_l;
    extract.most_mg = std::max(0.0, bath.at_most_mg_per_l - bath.blank_or_zero()) * bath.volume_l;
  } else {
    extract.mg = extract.most_mg = (bath.chloride_mg_per_l - bath.blank_or_zero()) * bath.volume_l;
    extract.error_mg =
        std::hypot(bath.volume_l * reading_error_mg_per_l(bath, bath.chloride_mg_per_l, errors),
                   errors.volume_relative * extract.mg);
  }
  return extract;
}

void sum_up(const BathLog& log, BathSummary& summary, const ReadingErrors& errors) {
  double days = 0;
  double variance = 0;
  for (const BathRecord& bath : log.baths) {
    BathExtract extract = extract_of(bath, errors);
    days += bath.days();
    if (bath.kind == ReadingKind::measured) {
      summary.total_mg += extract.mg;
      variance += extract.error_mg * extract.error_mg;
    } else if (bath.kind == ReadingKind::below_detection) {
      summary.undetected_mg += extract.most_mg;
    } else if (bath.kind == ReadingKind::between) {  // its lower mark counts, the rest may be
      summary.total_mg += extract.mg;
      if (std::isfinite(extract.most_mg)) summary.undetected_mg += extract.most_mg - extract.mg;
    }
    extract.cumulative_mg = summary.total_mg;
    extract.cumulative_error_mg = std::sqrt(variance);
    extract.sqrt_days = std::sqrt(days);
    summary.baths.push_back(extract);
  }
  summary.total_error_mg = std::sqrt(variance);
  for (BathExtract& extract : summary.baths) {
    extract.share_percent = 100 * extract.mg / summary.total_mg;
  }
}

// Straightness of the cumulative extract against sqrt(t), as far as every bath was measured.
void judge_straightness(const BathLog& log, BathSummary& summary) {
  double xy = 0;
  double xx = 0;
  double y = 0;
  double yy = 0;
  std::size_t n = 0;
  while (n < log.baths.size() && log.baths[n].kind == ReadingKind::measured) {
    const BathExtract& bath = summary.baths[n++];
    xy += bath.sqrt_days * bath.cumulative_mg;
    xx += bath.sqrt_days * bath.sqrt_days;
    y += bath.cumulative_mg;
    yy += bath.cumulative_mg * bath.cumulative_mg;
  }
  summary.sqrt_line_residual = kNotGiven;
  if (n < 3) return;
  const double spread = yy - y * y / static_cast<double>(n);
  if (spread > 0) summary.sqrt_line_residual = (yy - xy * xy / xx) / spread;
  const BathExtract& first = summary.baths[0];
  const BathExtract& second = summary.baths[1];
  const double step = second.sqrt_days - first.sqrt_days;
  const double slope = first.mg / first.sqrt_days;
  const double later = second.mg / step;
  const double error = std::hypot(first.error_mg / first.sqrt_days, second.error_mg / step);
  summary.slow_start = later > 1.3 * slope && later - slope > 2 * error;
}

bool equal_baths(const BathRecord& a, const BathRecord& b) {
  return std::abs(a.volume_l / b.volume_l - 1) <= 0.05 && std::abs(a.days() / b.days() - 1) <= 0.10;
}

// last x r/(1-r) with r = sqrt(last/third last), over the Gaussian errors of the two logarithms.
std::pair<double, double> tail_range(double last, double ratio, double last_error,
                                     double first_error) {
  constexpr int kPoints = 60;
  std::vector<double> tails;
  for (int i = 0; i < kPoints; ++i) {
    const double x = detail::normal_quantile((i + 0.5) / kPoints) * last_error;
    for (int j = 0; j < kPoints; ++j) {
      const double y = detail::normal_quantile((j + 0.5) / kPoints) * first_error;
      const double r = ratio * std::exp(0.5 * (x - y));
      tails.push_back(r < 1 ? last * std::exp(x) * r / (1 - r)
                            : std::numeric_limits<double>::infinity());
    }
  }
  std::sort(tails.begin(), tails.end());
  const auto at = [&](double share) {
    return tails[static_cast<std::size_t>(share * kPoints * kPoints)];
  };
  return {at(0.05), at(0.95)};
}

void estimate_tail(const BathLog& log, BathSummary& summary) {
  summary.late_ratio = summary.late_ratio_error = kNotGiven;
  summary.tail_mg = summary.tail_low_mg = summary.tail_high_mg = kNotGiven;
  const std::size_t n = log.baths.size();
  if (n < 3 || !equal_baths(log.baths[n - 3], log.baths[n - 2]) ||
      !equal_baths(log.baths[n - 2], log.baths[n - 1])) {
    return;
  }
  std::array<double, 3> relative{};
  const BathExtract* extract = &summary.baths[n - 3];
  for (std::size_t i = 0; i < 3; ++i) {
    if (log.baths[n - 3 + i].kind != ReadingKind::measured || !(extract[i].mg > 0)) return;
    relative[i] = extract[i].error_mg / extract[i].mg;
  }
  summary.late_ratio = std::sqrt(extract[2].mg / extract[0].mg);
  summary.late_ratio_error = 0.5 * summary.late_ratio * std::hypot(relative[0], relative[2]);
  const double change = std::log(extract[2].mg * extract[0].mg / (extract[1].mg * extract[1].mg));
  summary.ratio_steady =
      summary.late_ratio < 1 &&
      std::abs(change) <= 2 * std::hypot(relative[0], 2 * relative[1], relative[2]);
  if (summary.late_ratio >= 1) return;
  summary.tail_mg = extract[2].mg * summary.late_ratio / (1 - summary.late_ratio);
  std::tie(summary.tail_low_mg, summary.tail_high_mg) =
      tail_range(extract[2].mg, summary.late_ratio, relative[2], relative[0]);
}

void warn(const BathLog& log, BathSummary& summary) {
  auto& warnings = summary.warnings;
  warnings = log.warnings;
  std::size_t missing = 0;
  std::size_t hidden = 0;
  std::size_t between = 0;
  std::size_t blank_unknown = 0;
  for (std::size_t k = 0; k < log.baths.size(); ++k) {
    const BathRecord& bath = log.baths[k];
    if (bath.kind == ReadingKind::not_measured) ++missing;
    if (bath.kind == ReadingKind::below_detection) ++hidden;
    if (bath.kind == ReadingKind::between) ++between;
    if (bath.kind == ReadingKind::measured && std::isnan(bath.blank_mg_per_l)) ++blank_unknown;
    if (bath.kind == ReadingKind::measured && bath.chloride_mg_per_l < bath.blank_or_zero()) {
      warnings.push_back(
          detail::say("bath.warning.below_blank", {{"bath", std::to_string(k + 1)}}));
    }
  }
  if (between > 0) {
    warnings.push_back(detail::say("bath.warning.between", {{"baths", std::to_string(between)}}));
  }
  if (blank_unknown > 0) {
    warnings.push_back(
        detail::say("bath.warning.no_blank_total", {{"baths", std::to_string(blank_unknown)}}));
  }
  if (missing > 0) {
    warnings.push_back(
        detail::say("bath.warning.not_measured", {{"baths", std::to_string(missing)}}));
  }
  if (hidden > 0) {
    warnings.push_back(detail::say("bath.warning.below_detection",
                                   {{"baths", std::to_string(hidden)},
                                    {"mg", detail::format_number(summary.undetected_mg, 3)}}));
  }
  if (summary.slow_start) {
    warnings.push_back(detail::say("bath.warning.slow_start"));
  }
}

}  // namespace

BathSummary summarise_bath_log(const BathLog& log, double object_mass_g,
                               const ReadingErrors& errors) {
  if (log.baths.empty()) throw InputError("baths", "0", "a log with one bath or more");
  if (!std::isnan(object_mass_g) && !(object_mass_g > 0)) {
    throw InputError("object_mass_g", object_mass_g, "above 0");
  }
  BathSummary summary;
  sum_up(log, summary, errors);
  judge_straightness(log, summary);
  estimate_tail(log, summary);
  summary.total_mg_per_g = summary.total_mg / object_mass_g;
  summary.total_error_mg_per_g = summary.total_error_mg / object_mass_g;
  const BathRecord& last = log.baths.back();
  summary.detection_mg = last.detection_limit_mg_per_l * last.volume_l;
  summary.detection_mg_per_g = summary.detection_mg / object_mass_g;
  warn(log, summary);
  return summary;
}

}  // namespace aeruca
