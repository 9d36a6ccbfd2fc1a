#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/enclosure_report.hpp"
#include "render/store_report.hpp"
#include "store/file_meeting_text.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kShownFaults = 10;
constexpr std::size_t kShownProofs = 5;
constexpr std::size_t kShownMeetings = 10;
constexpr std::size_t kLabelWidth = 31;
constexpr std::size_t kColumnWidth = 12;

std::string number(double value, int digits = 3) {
  return format_number(value, digits);
}
std::string percent(double share) {
  return std::isnan(share) ? say("word.not_known") : number(100 * share) + " %";
}
std::string hours(double value) {
  return number(value, 4) + " h";
}

std::string three(const Percentiles& p) {
  return number(p.p5) + " / " + number(p.p50) + " / " + number(p.p95);
}

std::string limit(const std::vector<double>& rh) {
  if (rh.front() == rh.back()) return number(rh.front(), 4);
  return say("word.range", {{"low", number(rh.front(), 4)}, {"high", number(rh.back(), 4)}});
}

enum class End { low, high };

// A limit that changes with temperature is named, not numbered.
std::string above_text(End end, const std::vector<double>& rh) {
  if (rh.size() == 1) return say("page.store.above", {{"rh_percent", limit(rh)}});
  return say(end == End::low ? "page.store.above_low" : "page.store.above_high");
}

std::string limits_text(const OnsetCurve& onset) {
  const std::string low = limit(onset.low_rh_percent);
  const std::string high = limit(onset.high_rh_percent);
  if (std::isnan(onset.high_rh_percent.front()))
    return say("page.store.limit_open", {{"rh_percent", low}});
  if (onset.low_rh_percent == onset.high_rh_percent)
    return say("store.limit", {{"rh_percent", low}});
  if (onset.temperature_c.size() == 1)
    return say("page.store.limits", {{"low", low}, {"high", high}});
  return say("page.store.limits_with_temperature",
             {{"low", low},
              {"high", high},
              {"coldest_c", number(onset.temperature_c.front())},
              {"warmest_c", number(onset.temperature_c.back())}});
}

std::string onset_line(const OnsetCurve& onset) {
  const std::string source =
      onset.source.empty() ? "" : say("page.store.source", {{"source", onset.source}});
  return say("page.store.limit",
             {{"limit", limits_text(onset)},
              {"onset", onset.id + (onset.title.empty() ? "" : ": " + onset.title) + source}}) +
         "\n";
}

// Of a record joined from several files: which, and how they lie to each other.
std::string joined_lines(const LoggerRecord& record) {
  if (record.files.empty()) return "";
  const auto used = std::count_if(record.files.begin(), record.files.end(),
                                  [](const JoinedFile& file) { return file.problem.empty(); });
  std::string text = "  " +
                     say("page.store.joined", {{"used", std::to_string(used)},
                                               {"files", std::to_string(record.files.size())}}) +
                     "\n";
  for (const JoinedFile& file : record.files) {
    if (!file.problem.empty())
      text += "    " + say("page.store.not_used", {{"problem", file.problem}}) + "\n";
  }
  for (std::size_t i = 0; i < std::min(kShownMeetings, record.meetings.size()); ++i)
    text += "    " + file_meeting_text(record.meetings[i]) + "\n";
  if (record.meetings.size() > kShownMeetings)
    text += "    " + say("page.store.more", {{"count", std::to_string(kShownMeetings)}}) + "\n";
  return text;
}

std::string period_lines(const LoggerRecord& record, const StoreAssessment& a) {
  std::string text = say("page.store.record", {{"file", record.file}}) + "\n";
  text += joined_lines(record);
  for (std::size_t i = 0; i < std::min(kShownProofs, record.read_as.size()); ++i)
    text += "  " + say("page.store.read_as", {{"how", record.read_as[i]}}) + "\n";
  if (record.read_as.size() > kShownProofs)
    text += "  " + say("page.store.more", {{"count", std::to_string(kShownProofs)}}) + "\n";
  if (record.size() == 0) return text;
  text += "  " +
          say(record.utc ? "page.store.period_utc" : "page.store.period",
              {{"start", format_time(a.start_s)},
               {"end", format_time(a.end_s)},
               {"readings", std::to_string(record.size())},
               {"interval", hours(record.interval_s / 3600)}}) +
          "\n";
  text += "  " +
          say("page.store.known",
              {{"share", percent(a.coverage)},
               {"days", number(a.period_hours / 24, 4)},
               {"gaps", a.gaps == 0
                            ? say("page.store.no_gap")
                            : say("page.store.gaps", {{"gaps", std::to_string(a.gaps)},
                                                      {"longest", hours(a.longest_gap_hours)}})}}) +
          "\n";
  const bool warm = !std::isnan(a.temperature_c.p50);
  text +=
      "  " +
      say("page.store.air", {{"rh_percent", three(a.rh_percent)},
                             {"temperature", warm ? say("page.store.air_temperature",
                                                        {{"temperature_c", three(a.temperature_c)}})
                                                  : ""}}) +
      "\n";
  if (a.options.cooler_c != 0) {
    text += "  " +
            say("page.store.surface", {{"cooler_k", number(a.options.cooler_c)},
                                       {"rh_percent", three(a.surface_rh_percent)}}) +
            "\n";
  }
  return text;
}

std::string sensor_line(const StoreOptions& o) {
  const std::string random =
      o.random_rh_percent > 0
          ? say("page.store.sensor_random", {{"rh_percent", number(o.random_rh_percent)}})
          : "";
  return say(o.accuracy_meaning == AccuracyMeaning::uniform ? "page.store.sensor_uniform"
                                                            : "page.store.sensor_normal",
             {{"rh_percent", number(o.accuracy_rh_percent)}, {"random", random}}) +
         "\n";
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
    text += "    " +
            say(above.longest.touches_gap ? "page.store.spell_at_gap" : "page.store.spell",
                {{"start", format_time(above.longest.start_s)},
                 {"end", format_time(above.longest.end_s)}}) +
            "\n";
  }
  return text;
}

std::string table(const StoreAssessment& a) {
  const OnsetCurve& onset = a.options.onset;
  std::string text = row("", {say("page.store.as_read"), say("page.store.reads_high"),
                              say("page.store.reads_low"), say("page.store.expected")});
  const auto rows = [](const std::string& limit, const TimeAbove& above) {
    return share_row(say("page.store.time", {{"limit", limit}}), above.share) +
           spell_row(say("page.store.longest_spell", {{"limit", limit}}), above);
  };
  text += rows(above_text(End::low, onset.low_rh_percent), a.above_low);
  if (onset.high_rh_percent != onset.low_rh_percent && !std::isnan(onset.high_rh_percent.front())) {
    text += rows(above_text(End::high, onset.high_rh_percent), a.above_high);
  }
  return text;
}

std::string month_line(const StoreAssessment& a) {
  if (a.worst_month < 0) return "";
  const MonthSummary& m = a.months[static_cast<std::size_t>(a.worst_month)];
  const std::string month =
      std::to_string(m.year) + (m.month < 10 ? "-0" : "-") + std::to_string(m.month);
  return "  " +
         say("page.store.worst_month", {{"month", month},
                                        {"rh_percent", number(m.mean_rh_percent)},
                                        {"share", percent(m.share_above_low)}}) +
         "\n";
}

std::string week_line(const StoreAssessment& a) {
  const WeekSummary& week = a.worst_week;
  if (!(week.known_hours > 0)) return "";
  return "  " +
         say("page.store.worst_week", {{"day", format_time(week.start_s).substr(0, 10)},
                                       {"rh_percent", number(week.mean_rh_percent)},
                                       {"share", percent(week.share_above_low)},
                                       {"hours", hours(week.known_hours)}}) +
         "\n";
}

// One season alone says nothing that the whole record does not.
std::string season_lines(const StoreAssessment& a) {
  if (a.seasons.size() < 2) return "";
  std::string text = "  " + say("page.store.seasons") + "\n";
  for (const SeasonSummary& season : a.seasons) {
    text += "    " +
            say("page.store.season",
                {{"season", choice_word("season", std::to_string(season.first_month))},
                 {"rh_percent", number(season.mean_rh_percent)},
                 {"share", percent(season.share_above_low)}}) +
            "\n";
  }
  return text;
}

std::string more_lines(const StoreAssessment& a) {
  std::string text = "  " +
                     say("page.store.cycles", {{"cycles", std::to_string(a.wet_dry_cycles)},
                                               {"excursions", std::to_string(a.excursions)}}) +
                     "\n" + month_line(a) + week_line(a) + season_lines(a);
  if (!std::isnan(a.share_brine_may_last)) {
    text += "  " +
            say("page.store.brine_may_last",
                {{"share", percent(a.share_brine_may_last)},
                 {"rh_percent", number(a.options.onset.crystallisation_rh_percent)}}) +
            "\n";
  }
  if (!std::isnan(a.time_of_wetness_hours)) {
    text += "  " + say("page.store.wetness", {{"hours", hours(a.time_of_wetness_hours)}}) + "\n";
  }
  return text;
}

std::string rule_lines(const StoreOptions& o) {
  return "  " +
         say("page.store.rule_active",
             {{"hours", number(o.active_spell_h)}, {"share", percent(o.active_share)}}) +
         "\n    " +
         say("page.store.rule_dormant", {{"hours", number(o.active_spell_h)},
                                         {"share", percent(o.dormant_share)},
                                         {"probability", number(o.dormant_probability)}}) +
         "\n    " + say("page.store.rule_own") + "\n";
}

std::string verdict_lines(const StoreAssessment& a) {
  std::string text =
      say("page.store.verdict", {{"verdict", choice_word("verdict", to_string(a.verdict))}}) +
      "\n  " + a.reason + "\n" + rule_lines(a.options);
  if (a.readings == 0) return text;
  if (a.verdict == Verdict::not_known)
    return text + "  " + say("page.store.no_probabilities") + "\n";
  text +=
      "  " +
      say("page.store.probabilities", {{"dormant", probability_text(a.probability_dormant)},
                                       {"borderline", probability_text(a.probability_borderline)},
                                       {"active", probability_text(a.probability_active)}}) +
      "\n";
  return text + "  " +
         say("page.store.never_above",
             {{"probability", probability_text(a.probability_below_all_time)}}) +
         "\n    " + say("page.store.sensor_only") + "\n";
}

std::string fault_lines(const LoggerRecord& record) {
  const std::size_t total = [&] {
    std::size_t sum = 0;
    for (const std::size_t count : record.fault_counts) sum += count;
    return sum;
  }();
  std::string text = say("page.store.faults", {{"faults", std::to_string(total)},
                                               {"dropped", std::to_string(record.dropped)},
                                               {"lines", std::to_string(record.rows)}}) +
                     "\n";
  for (std::size_t kind = 0; kind < kFaultKinds; ++kind) {
    if (record.fault_counts[kind] == 0) continue;
    text += "  " +
            padded(choice_word("fault", to_string(static_cast<FaultKind>(kind))), kLabelWidth) +
            std::to_string(record.fault_counts[kind]) + "\n";
  }
  for (std::size_t i = 0; i < std::min(kShownFaults, record.faults.size()); ++i) {
    const LoggerFault& fault = record.faults[i];
    text += "  " + (fault.file.empty() ? "" : fault.file + ", ") +
            say("page.store.fault", {{"line", std::to_string(fault.line)},
                                     {"field", fault.field},
                                     {"reason", fault.reason}}) +
            "\n";
  }
  if (total > kShownFaults)
    text += "  " + say("page.store.more_faults", {{"count", std::to_string(kShownFaults)}}) + "\n";
  return text;
}

}  // namespace

std::string store_text(const LoggerRecord& record, const StoreAssessment& a,
                       const std::optional<TwoLoggers>& two, const std::optional<StoreBox>& box,
                       const Dataset& dataset) {
  std::string text = period_lines(record, a) + onset_line(a.options.onset) + sensor_line(a.options);
  text += '\n';
  if (a.readings > 0) text += table(a) + more_lines(a) + '\n';
  text += verdict_lines(a);
  if (!a.set_point.empty()) text += a.set_point + "\n";
  if (two) text += two->said + "\n";
  if (box && !box->review.summary.empty()) text += box->review.summary + "\n";
  for (const std::string& warning : a.warnings)
    text += "  " + say("page.note", {{"note", warning}}) + "\n";
  text += "  " + say("page.store.not_how_fast") + "\n\n";
  if (box) text += box_text(box->review, box->fit) + "\n";
  text += fault_lines(record);
  return text + "\n" +
         say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}}) +
         "\n";
}

}  // namespace aeruca::detail
