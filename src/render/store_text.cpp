#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "render/store_report.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kShownFaults = 10;
constexpr std::size_t kLabelWidth = 31;
constexpr std::size_t kColumnWidth = 12;

std::string number(double value, int digits = 3) {
  return format_number(value, digits);
}
std::string percent(double share) {
  return std::isnan(share) ? "not known" : number(100 * share) + " %";
}
std::string hours(double value) {
  return number(value, 4) + " h";
}

std::string three(const Percentiles& p) {
  return number(p.p5) + " / " + number(p.p50) + " / " + number(p.p95);
}

std::string limit(const std::vector<double>& rh) {
  return rh.front() == rh.back() ? number(rh.front(), 4)
                                 : number(rh.front(), 4) + " to " + number(rh.back(), 4);
}

// A limit that changes with temperature is named, not numbered.
std::string above_text(const char* end, const std::vector<double>& rh) {
  return rh.size() == 1 ? "above " + limit(rh) + " % RH" : std::string("above the ") + end + " end";
}

std::string onset_line(const OnsetCurve& onset) {
  std::string text = "Limit: ";
  if (std::isnan(onset.high_rh_percent.front())) {
    text += limit(onset.low_rh_percent) + " % RH, no upper end named";
  } else if (onset.low_rh_percent == onset.high_rh_percent) {
    text += limit(onset.low_rh_percent) + " % RH";
  } else if (onset.temperature_c.size() == 1) {
    text += limit(onset.low_rh_percent) + " to " + limit(onset.high_rh_percent) + " % RH";
  } else {
    text += "low end " + limit(onset.low_rh_percent) + ", high end " +
            limit(onset.high_rh_percent) + " % RH from " + number(onset.temperature_c.front()) +
            " to " + number(onset.temperature_c.back()) + " degrees C";
  }
  return text + " (" + onset.id + (onset.title.empty() ? "" : ": " + onset.title) +
         (onset.source.empty() ? "" : "; source " + onset.source) + ")\n";
}

std::string period_lines(const LoggerRecord& record, const StoreAssessment& a) {
  std::string text = "Store record " + record.file + "\n";
  if (record.size() == 0) return text;
  text += "  " + format_time(a.start_s) + " to " + format_time(a.end_s) +
          (record.utc ? " UTC" : " as the file writes it") + ", " + std::to_string(record.size()) +
          " readings, usually every " + hours(record.interval_s / 3600) + "\n";
  text += "  known: " + percent(a.coverage) + " of " + number(a.period_hours / 24, 4) + " days";
  text += a.gaps == 0 ? "; no gap\n"
                      : "; gaps: " + std::to_string(a.gaps) + ", the longest " +
                            hours(a.longest_gap_hours) + "\n";
  text += "  air, 5 / 50 / 95 % of the time at or below: " + three(a.rh_percent) + " % RH";
  if (!std::isnan(a.temperature_c.p50)) text += ", " + three(a.temperature_c) + " degrees C";
  text += "\n";
  if (a.options.cooler_c != 0) {
    text += "  at a surface " + number(a.options.cooler_c) +
            " K cooler: " + three(a.surface_rh_percent) + " % RH\n";
  }
  return text;
}

std::string sensor_line(const StoreOptions& o) {
  std::string text = "Sensor: +/-" + number(o.accuracy_rh_percent) +
                     " % RH taken as one bias of the whole record, ";
  text += o.accuracy_meaning == AccuracyMeaning::uniform ? "every value inside equally likely"
                                                         : "a 95 % interval";
  if (o.random_rh_percent > 0)
    text += "; each reading's own error " + number(o.random_rh_percent) + " % RH (1 sd)";
  return text + "\n";
}

std::string row(const std::string& label, const std::vector<std::string>& cells) {
  std::string text = "  " + padded(label, kLabelWidth);
  for (const std::string& cell : cells) text += padded(cell, kColumnWidth);
  text.erase(text.find_last_not_of(' ') + 1);
  return text + "\n";
}

std::string share_row(const std::string& label, const SensorRange& r) {
  return row(label, {percent(r.as_read), percent(r.if_reads_high), percent(r.if_reads_low),
                     percent(r.expected)});
}

std::string spell_row(const std::string& label, const TimeAbove& above) {
  const SensorRange& r = above.longest_h;
  std::string text = row(label, {hours(r.as_read), hours(r.if_reads_high), hours(r.if_reads_low)});
  if (above.longest.hours > 0) {
    text += "    as read: " + format_time(above.longest.start_s) + " to " +
            format_time(above.longest.end_s) +
            (above.longest.touches_gap ? ", borders a gap: it may have been longer" : "") + "\n";
  }
  return text;
}

std::string table(const StoreAssessment& a) {
  const OnsetCurve& onset = a.options.onset;
  std::string text = row("", {"as read", "reads high", "reads low", "expected"});
  const std::string low = above_text("low", onset.low_rh_percent);
  text +=
      share_row("time " + low, a.above_low.share) + spell_row("longest spell " + low, a.above_low);
  if (onset.high_rh_percent != onset.low_rh_percent && !std::isnan(onset.high_rh_percent.front())) {
    const std::string high = above_text("high", onset.high_rh_percent);
    text += share_row("time " + high, a.above_high.share) +
            spell_row("longest spell " + high, a.above_high);
  }
  return text;
}

std::string month_line(const StoreAssessment& a) {
  if (a.worst_month < 0) return "";
  const MonthSummary& m = a.months[static_cast<std::size_t>(a.worst_month)];
  return "  worst month: " + std::to_string(m.year) + (m.month < 10 ? "-0" : "-") +
         std::to_string(m.month) + ", mean " + number(m.mean_rh_percent) +
         " % RH at the surface, " + percent(m.share_above_low) +
         " of its known time above the low end\n";
}

std::string more_lines(const StoreAssessment& a) {
  std::string text = "  wet and dry again: " + std::to_string(a.wet_dry_cycles) + " of " +
                     std::to_string(a.excursions) + " excursions\n" + month_line(a);
  if (!std::isnan(a.time_of_wetness_hours)) {
    text += "  time of wetness (ISO 9223, above 80 % RH and 0 degrees C): " +
            hours(a.time_of_wetness_hours) +
            "; not a bronze-disease criterion, chloride salts wet a surface far below 80 %\n";
  }
  return text;
}

std::string rule_lines(const StoreOptions& o) {
  return "  rule: active when above the high end for " + number(o.active_spell_h) +
         " h on end or " + percent(o.active_share) +
         " of the known time;\n    dormant when above the low end for less than " +
         number(o.active_spell_h) + " h on end and " + percent(o.dormant_share) +
         " of it, with probability " + number(o.dormant_probability) +
         " or more.\n    Our own working rule, from no source.\n";
}

std::string verdict_lines(const StoreAssessment& a) {
  std::string text = "Verdict: " + std::string(to_string(a.verdict)) + "\n  " + a.reason + "\n" +
                     rule_lines(a.options);
  if (a.readings == 0) return text;
  if (a.verdict == Verdict::not_known)
    return text + "  probabilities: not worked out from so little\n";
  text += "  probability that the record was dormant / borderline / active by this rule: " +
          probability_text(a.probability_dormant) + " / " +
          probability_text(a.probability_borderline) + " / " +
          probability_text(a.probability_active) + "\n";
  return text + "  probability that no reading was truly above the low end: " +
         probability_text(a.probability_below_all_time) +
         "\n    Sensor error only: the spread of published limits and the object itself are not in "
         "these.\n";
}

std::string fault_lines(const LoggerRecord& record) {
  const std::size_t total = [&] {
    std::size_t sum = 0;
    for (const std::size_t count : record.fault_counts) sum += count;
    return sum;
  }();
  std::string text = "Faults in the file: " + std::to_string(total) + "; " +
                     std::to_string(record.dropped) + " of " + std::to_string(record.rows) +
                     " lines dropped\n";
  for (std::size_t kind = 0; kind < kFaultKinds; ++kind) {
    if (record.fault_counts[kind] == 0) continue;
    text += "  " + padded(std::string(to_string(static_cast<FaultKind>(kind))), kLabelWidth) +
            std::to_string(record.fault_counts[kind]) + "\n";
  }
  for (std::size_t i = 0; i < std::min(kShownFaults, record.faults.size()); ++i) {
    const LoggerFault& fault = record.faults[i];
    text +=
        "  line " + std::to_string(fault.line) + ", " + fault.field + ": " + fault.reason + "\n";
  }
  if (total > kShownFaults)
    text += "  ... the first " + std::to_string(kShownFaults) + " are shown; --json lists them\n";
  return text;
}

}  // namespace

std::string store_text(const LoggerRecord& record, const StoreAssessment& a,
                       const Dataset& dataset) {
  std::string text = period_lines(record, a) + onset_line(a.options.onset) + sensor_line(a.options);
  text += '\n';
  if (a.readings > 0) text += table(a) + more_lines(a) + '\n';
  text += verdict_lines(a);
  for (const std::string& warning : a.warnings) text += "  note: " + warning + "\n";
  text +=
      "  Humidity says what can react, not how fast; the record says nothing of the time outside "
      "it.\n\n";
  text += fault_lines(record);
  return text + "\nData set " + dataset.version + ", content " + dataset.content_hash + "\n";
}

}  // namespace aeruca::detail
