#include "store/verdict.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/logger_files.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

std::string number(double value, int digits = 3) {
  return format_number(value, digits);
}
std::string signed_number(double value) {
  return (value < 0 ? "" : "+") + number(value, 2);
}
std::string percent(double share) {
  return number(100 * share) + " %";
}

std::string limit_text(const StoreOptions& options, const std::vector<double>& limit) {
  const auto [lowest, highest] = std::minmax_element(limit.begin(), limit.end());
  if (limit.size() == 1) return say("store.limit", {{"rh_percent", number(*lowest, 4)}});
  return say(
      "store.limit_with_temperature",
      {{"onset", options.onset.id}, {"low", number(*lowest, 4)}, {"high", number(*highest, 4)}});
}

std::string spell_text(const TimeAbove& above) {
  if (above.longest.hours <= 0) return say("store.never_above");
  return say("store.spell", {{"share", percent(above.share.as_read)},
                             {"hours", number(above.longest.hours, 4)},
                             {"start", format_time(above.longest.start_s)}});
}

// All three side by side: a verdict is a decision by a rule, and a reader weighs it by what else it
// could have been.
std::string chances(const StoreAssessment& a) {
  const std::string dormant = probability_text(a.probability_dormant);
  const std::string between = probability_text(a.probability_borderline);
  if (std::isnan(a.probability_active))
    return say("store.chances.two", {{"dormant", dormant}, {"not_dormant", between}});
  return say("store.chances.three", {{"dormant", dormant},
                                     {"borderline", between},
                                     {"active", probability_text(a.probability_active)}});
}

std::string active_reason(const StoreAssessment& a) {
  const StoreOptions& o = a.options;
  return say("store.reason.active", {{"probability", probability_text(a.probability_active)},
                                     {"limit", limit_text(o, o.onset.high_rh_percent)},
                                     {"hours", number(o.active_spell_h)},
                                     {"share", percent(o.active_share)},
                                     {"spell", spell_text(a.above_high)}});
}

std::string dormant_reason(const StoreAssessment& a) {
  const StoreOptions& o = a.options;
  return say("store.reason.dormant", {{"probability", probability_text(a.probability_dormant)},
                                      {"limit", limit_text(o, o.onset.low_rh_percent)},
                                      {"hours", number(o.active_spell_h)},
                                      {"share", percent(o.dormant_share)},
                                      {"spell", spell_text(a.above_low)}});
}

// The record as read: did it keep to the rule for dormant?
bool dormant_as_read(const StoreAssessment& a) {
  return a.above_low.longest.hours < a.options.active_spell_h &&
         a.above_low.share.as_read < a.options.dormant_share;
}

// What stands between this record and dormant: the sensor, or the humidity itself.
std::string kept_from_dormant(const StoreAssessment& a) {
  std::string above =
      say("store.above", {{"limit", limit_text(a.options, a.options.onset.low_rh_percent)},
                          {"spell", spell_text(a.above_low)}});
  if (!dormant_as_read(a)) return say("store.kept.by_reading", {{"above", above}});
  if (a.accuracy_used_rh_percent == 0 && a.options.random_rh_percent == 0) return above;
  return say("store.kept.by_sensor",
             {{"above", above}, {"rh_percent", number(a.accuracy_used_rh_percent)}});
}

std::string borderline_reason(const StoreAssessment& a) {
  const std::string dormant = number(a.options.dormant_probability);
  if (std::isnan(a.probability_active))
    return say("store.reason.borderline_open",
               {{"chances", chances(a)}, {"dormant", dormant}, {"kept", kept_from_dormant(a)}});
  return say("store.reason.borderline", {{"chances", chances(a)},
                                         {"dormant", dormant},
                                         {"active", number(kActiveProbability)},
                                         {"kept", kept_from_dormant(a)}});
}

// Why the record is too little to judge by; empty when it is enough.
std::string too_little(const StoreAssessment& a) {
  if (a.readings == 0) return say("store.too_little.nothing");
  if (a.known_hours < 24 * a.options.minimum_days) {
    return say("store.too_little.days",
               {{"days", number(a.known_hours / 24)}, {"least", number(a.options.minimum_days)}});
  }
  if (a.coverage < a.options.minimum_coverage) {
    return say("store.too_little.coverage",
               {{"share", percent(a.coverage)}, {"least", percent(a.options.minimum_coverage)}});
  }
  return "";
}

// A season of which fewer days than these are known has hardly been seen.
constexpr double kSeasonDays = 10;

void warn_of_seasons(StoreAssessment& a) {
  std::string missing;
  for (const int first_month : {12, 3, 6, 9}) {
    const bool seen =
        std::any_of(a.seasons.begin(), a.seasons.end(), [&](const SeasonSummary& season) {
          return season.first_month == first_month && season.known_hours >= 24 * kSeasonDays;
        });
    if (seen) continue;
    missing += (missing.empty() ? "" : ", ") + choice_word("season", std::to_string(first_month));
  }
  if (!missing.empty())
    a.warnings.push_back(say("store.warning.season_missing", {{"seasons", missing}}));
}

void warn_of_gaps(StoreAssessment& a) {
  if (a.gaps > 0 && a.longest_gap_hours >= a.options.active_spell_h) {
    a.warnings.push_back(say("store.warning.gaps", {{"gaps", std::to_string(a.gaps)},
                                                    {"hours", number(a.longest_gap_hours, 4)}}));
  }
  if (a.readings > 0 && a.period_hours < 300 * 24.0)
    a.warnings.push_back(say("store.warning.seasons", {{"days", number(a.period_hours / 24)}}));
  else if (a.readings > 0)
    warn_of_seasons(a);
}

void warn_of_readings(const LoggerRecord& record, StoreAssessment& a, std::size_t stuck) {
  if (stuck > 0)
    a.warnings.push_back(say("store.warning.stuck", {{"readings", std::to_string(stuck)}}));
  if (a.left_out > stuck) {
    a.warnings.push_back(
        say("store.warning.left_out", {{"readings", std::to_string(a.left_out - stuck)}}));
  }
  if (record.count(FaultKind::spike) > 0) {
    a.warnings.push_back(
        say("store.warning.spikes", {{"spikes", std::to_string(record.count(FaultKind::spike))}}));
  }
  if (record.count(FaultKind::clock_change) > 0) {
    a.warnings.push_back(say("store.warning.clock",
                             {{"times", std::to_string(record.count(FaultKind::clock_change))}}));
  }
}

void warn_of_checks(StoreAssessment& a) {
  const StoreOptions& o = a.options;
  if (o.checks.empty()) return;
  a.warnings.push_back(
      say("store.warning.checked", {{"correction", signed_number(a.correction_rh_percent)},
                                    {"accuracy", number(a.accuracy_used_rh_percent, 2)},
                                    {"maker", number(o.accuracy_rh_percent)}}));
  if (std::abs(a.correction_rh_percent) > o.accuracy_rh_percent + a.accuracy_used_rh_percent)
    a.warnings.push_back(say("store.warning.worse_than_stated",
                             {{"correction", number(std::abs(a.correction_rh_percent), 2)},
                              {"maker", number(o.accuracy_rh_percent)}}));
}

// A folder may hold the files of two loggers.
void warn_of_files(const LoggerRecord& record, StoreAssessment& a) {
  for (const FileMeeting& one : record.meetings) {
    const std::size_t common = one.agreeing + one.disagreeing;
    if (one.disagreeing > one.agreeing) {
      a.warnings.push_back(
          say("store.warning.files_differ", {{"later", one.later},
                                             {"earlier", one.earlier},
                                             {"disagreeing", std::to_string(one.disagreeing)},
                                             {"common", std::to_string(common)}}));
    } else if (one.between > std::max(common, kReadingsOfAnInterval)) {
      a.warnings.push_back(
          say("store.warning.files_interleave", {{"between", std::to_string(one.between)},
                                                 {"later", one.later},
                                                 {"earlier", one.earlier}}));
    }
  }
}

void warn_of_sensor(StoreAssessment& a) {
  const auto& onset = a.options.onset;
  const double band = onset.high_rh_percent.front() - onset.low_rh_percent.front();
  if (band > 0 && 2 * a.accuracy_used_rh_percent > band) {
    a.warnings.push_back(
        say("store.warning.sensor",
            {{"accuracy", number(a.accuracy_used_rh_percent)}, {"band", number(band)}}));
  }
  warn_of_checks(a);
  if (a.options.drift_rh_percent_per_year > 0) {
    a.warnings.push_back(say("store.warning.drift",
                             {{"rh_percent", number(a.options.drift_rh_percent_per_year)},
                              {"calibrated", format_time(*a.options.calibrated_s).substr(0, 10)}}));
  }
  if (a.share_condensing > 0)
    a.warnings.push_back(say("store.warning.condensing", {{"share", percent(a.share_condensing)}}));
}

// Rounded down to what a display shows, to the safe side.
std::string set_point_words(const StoreAssessment& a) {
  if (std::isnan(a.set_point_rh_percent)) return "";
  const double shown = std::floor(a.set_point_rh_percent);
  if (!(shown > 0)) return say("store.set_point.none");
  std::string record;
  if (!std::isnan(a.too_humid_by_rh_percent)) {
    record =
        say(a.too_humid_by_rh_percent > 0 ? "store.set_point.below" : "store.set_point.in_hand",
            {{"rh_percent", number(std::abs(a.too_humid_by_rh_percent), 2)}});
  }
  return say("store.set_point.at", {{"rh_percent", number(shown)},
                                    {"probability", number(a.options.dormant_probability)},
                                    {"record", record}});
}

}  // namespace

void judge(const LoggerRecord& record, StoreAssessment& a) {
  const std::string lack = too_little(a);
  if (a.readings > 0 && a.probability_active >= kActiveProbability) {
    a.verdict = Verdict::active;
    a.reason = active_reason(a);
  } else if (!lack.empty()) {
    a.verdict = Verdict::not_known;
    a.reason = lack;
  } else if (a.probability_dormant >= a.options.dormant_probability) {
    a.verdict = Verdict::dormant;
    a.reason = dormant_reason(a);
  } else {
    a.verdict = Verdict::borderline;
    a.reason = borderline_reason(a);
  }
  a.set_point = set_point_words(a);
  std::size_t stuck = 0;
  for (const Stretch& stretch : record.stuck) stuck += stretch.last - stretch.first + 1;
  warn_of_gaps(a);
  warn_of_readings(record, a, stuck);
  warn_of_files(record, a);
  warn_of_sensor(a);
}

}  // namespace aeruca::detail
