#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/store_report.hpp"

namespace aeruca::cli {
namespace {

using Json = nlohmann::ordered_json;

// NaN stands for "not known" and becomes null.
Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json numbers(const std::vector<double>& values) {
  Json list = Json::array();
  for (const double value : values) list.push_back(number(value));
  return list;
}

Json range(const SensorRange& r) {
  return {{"as_read", number(r.as_read)},
          {"if_reads_high", number(r.if_reads_high)},
          {"if_reads_low", number(r.if_reads_low)},
          {"expected", number(r.expected)}};
}

Json percentiles(const Percentiles& p) {
  return {{"p5", number(p.p5)}, {"p50", number(p.p50)}, {"p95", number(p.p95)}};
}

Json above(const TimeAbove& t) {
  Json longest = nullptr;
  if (t.longest.hours > 0) {
    longest = {{"hours", t.longest.hours},
               {"start", format_time(t.longest.start_s)},
               {"end", format_time(t.longest.end_s)},
               {"touches_gap", t.longest.touches_gap}};
  }
  return {{"share", range(t.share)},
          {"longest_spell", longest},
          {"longest_spell_hours", range(t.longest_h)}};
}

Json onset(const OnsetCurve& o) {
  return {{"id", o.id},
          {"title", o.title},
          {"source", o.source},
          {"temperature_c", numbers(o.temperature_c)},
          {"low_rh_percent", numbers(o.low_rh_percent)},
          {"high_rh_percent", numbers(o.high_rh_percent)}};
}

Json options(const StoreOptions& o) {
  return {{"onset", onset(o.onset)},
          {"accuracy_rh_percent", o.accuracy_rh_percent},
          {"accuracy_meaning", to_string(o.accuracy_meaning)},
          {"random_rh_percent", o.random_rh_percent},
          {"cooler_c", o.cooler_c},
          {"hysteresis_rh_percent", o.hysteresis_rh_percent},
          {"active_spell_h", o.active_spell_h},
          {"active_share", o.active_share},
          {"dormant_share", o.dormant_share},
          {"dormant_probability", o.dormant_probability},
          {"minimum_coverage", o.minimum_coverage},
          {"minimum_days", o.minimum_days}};
}

Json months(const StoreAssessment& a) {
  Json list = Json::array();
  for (const MonthSummary& m : a.months) {
    list.push_back({{"year", m.year},
                    {"month", m.month},
                    {"known_hours", m.known_hours},
                    {"mean_rh_percent", m.mean_rh_percent},
                    {"share_above_low", m.share_above_low},
                    {"share_above_high", m.share_above_high}});
  }
  return list;
}

Json record_json(const LoggerRecord& r) {
  Json counts = Json::object();
  for (std::size_t kind = 0; kind < kFaultKinds; ++kind) {
    counts[std::string(to_string(static_cast<FaultKind>(kind)))] = r.fault_counts[kind];
  }
  Json faults = Json::array();
  for (const LoggerFault& fault : r.faults) {
    faults.push_back({{"kind", to_string(fault.kind)},
                      {"action", to_string(fault.action)},
                      {"line", fault.line},
                      {"field", fault.field},
                      {"reason", fault.reason}});
  }
  return {{"file", r.file},         {"utc", r.utc},         {"rows", r.rows},
          {"readings", r.size()},   {"dropped", r.dropped}, {"interval_s", r.interval_s},
          {"fault_counts", counts}, {"faults", faults}};
}

Json assessment_json(const StoreAssessment& a) {
  Json worst = a.worst_month < 0 ? Json(nullptr) : Json(a.worst_month);
  return {{"verdict", to_string(a.verdict)},
          {"reason", a.reason},
          {"probability_dormant", number(a.probability_dormant)},
          {"probability_borderline", number(a.probability_borderline)},
          {"probability_active", number(a.probability_active)},
          {"probability_below_all_time", number(a.probability_below_all_time)},
          {"period_hours", a.period_hours},
          {"known_hours", a.known_hours},
          {"coverage", a.coverage},
          {"gaps", a.gaps},
          {"longest_gap_hours", a.longest_gap_hours},
          {"readings_assessed", a.readings},
          {"readings_left_out", a.left_out},
          {"temperature_c", percentiles(a.temperature_c)},
          {"rh_percent", percentiles(a.rh_percent)},
          {"surface_rh_percent", percentiles(a.surface_rh_percent)},
          {"above_low", above(a.above_low)},
          {"above_high", above(a.above_high)},
          {"share_condensing", number(a.share_condensing)},
          {"excursions", a.excursions},
          {"wet_dry_cycles", a.wet_dry_cycles},
          {"time_of_wetness_hours", number(a.time_of_wetness_hours)},
          {"months", months(a)},
          {"worst_month", worst},
          {"warnings", a.warnings},
          {"options", options(a.options)}};
}

}  // namespace

std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const Dataset& dataset) {
  Json document = {
      {"record", record_json(record)},
      {"assessment", assessment_json(assessment)},
      {"data_set", {{"version", dataset.version}, {"content_hash", dataset.content_hash}}}};
  if (record.size() > 0) {
    document["record"]["start"] = format_time(assessment.start_s);
    document["record"]["end"] = format_time(assessment.end_s);
  }
  // A file name or field need not be valid UTF-8; what is not is replaced.
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace aeruca::cli
