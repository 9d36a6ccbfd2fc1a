#pragma once

// The results of `store`, described once: the logger record and what it says of the store.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/store.hpp"
#include "aeruca/two_loggers.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<OnsetCurve> {
  static constexpr std::string_view name = "OnsetCurve";
  static constexpr std::string_view meaning =
      "A humidity limit (% RH), constant or changing with temperature.";
  template <class Take>
  static void figures(Take take) {
    take("id", &OnsetCurve::id, "", "name of the limit", at_a_glance);
    take("title", &OnsetCurve::title, "", "title");
    take("source", &OnsetCurve::source, "", "source");
    take("temperature_c", &OnsetCurve::temperature_c, "degrees C", "temperature of the surface");
    take("low_rh_percent", &OnsetCurve::low_rh_percent, "% RH", "low end", at_a_glance);
    take("high_rh_percent", &OnsetCurve::high_rh_percent, "% RH",
         "high end; not known: the source names none", at_a_glance);
  }
  static std::string said(const OnsetCurve& curve);
};

template <>
struct Description<SensorCheck> {
  static constexpr std::string_view name = "SensorCheck";
  static constexpr std::string_view meaning =
      "What the sensor read in a jar over a saturated salt.";
  template <class Take>
  static void figures(Take take) {
    take("salt", &SensorCheck::salt, "", "salt in the jar");
    take("temperature_c", &SensorCheck::temperature_c, "degrees C", "temperature of the jar");
    take("reading_rh_percent", &SensorCheck::reading_rh_percent, "% RH", "reading of the sensor");
    take("salt_rh_percent", &SensorCheck::salt_rh_percent, "% RH", "humidity over the salt");
    take("salt_uncertainty_percent", &SensorCheck::salt_uncertainty_percent, "% RH",
         "its standard uncertainty", digits(2));
  }
};

template <>
struct Description<StoreOptions> {
  static constexpr std::string_view name = "StoreOptions";
  static constexpr std::string_view meaning = "How a store record is judged; units in the names.";
  template <class Take>
  static void figures(Take take) {
    take("onset", &StoreOptions::onset, "", "limit judged against");
    take("accuracy_rh_percent", &StoreOptions::accuracy_rh_percent, "% RH",
         "plus-minus of the sensor as its maker states it");
    take("accuracy_meaning", &StoreOptions::accuracy_meaning, "", "how that is understood");
    take("checks", &StoreOptions::checks, "", "checks of the sensor over saturated salts");
    take("drift_rh_percent_per_year", &StoreOptions::drift_rh_percent_per_year, "% RH a year",
         "plus-minus of its drift");
    take("calibrated_s", &StoreOptions::calibrated_s, "", "last calibrated or checked", moment,
         key("calibrated"));
    take("random_rh_percent", &StoreOptions::random_rh_percent, "% RH",
         "standard deviation of each reading's own error");
    take("cooler_c", &StoreOptions::cooler_c, "K", "object cooler than the air by");
    take("hysteresis_rh_percent", &StoreOptions::hysteresis_rh_percent, "% RH",
         "a wet excursion ends this much below where it began");
    take("active_spell_h", &StoreOptions::active_spell_h, "h", "spell that makes it active");
    take("active_share", &StoreOptions::active_share, "", "share of time that makes it active");
    take("dormant_share", &StoreOptions::dormant_share, "", "share of time still dormant");
    take("dormant_probability", &StoreOptions::dormant_probability, "",
         "probability that makes it dormant");
    take("minimum_coverage", &StoreOptions::minimum_coverage, "", "least share that is known");
    take("minimum_days", &StoreOptions::minimum_days, "days", "least time that is known");
    take("minimum_readings", &StoreOptions::minimum_readings, "", "fewest readings judged");
  }
};

template <>
struct Description<SensorRange> {
  static constexpr std::string_view name = "SensorRange";
  static constexpr std::string_view meaning =
      "A figure as read, and at the ends of the sensor's accuracy.";
  template <class Take>
  static void figures(Take take) {
    take("as_read", &SensorRange::as_read, "", "as read", digits(3));
    take("if_reads_high", &SensorRange::if_reads_high, "", "if the sensor reads high", digits(3));
    take("if_reads_low", &SensorRange::if_reads_low, "", "if it reads low", digits(3));
    take("expected", &SensorRange::expected, "", "mean over the sensor's error", digits(3));
  }
  static std::string said(const SensorRange& range, const Label& label);
};

template <>
struct Description<Spell> {
  static constexpr std::string_view name = "Spell";
  static constexpr std::string_view meaning = "Readings in a row above a limit.";
  template <class Take>
  static void figures(Take take) {
    take("hours", &Spell::hours, "h", "length");
    take("start_s", &Spell::start_s, "", "from", moment, key("start"));
    take("end_s", &Spell::end_s, "", "to", moment, key("end"));
    take("touches_gap", &Spell::touches_gap, "",
         "borders a gap or unknown reading, and may have been longer");
  }
  static bool nothing(const Spell& spell) { return !(spell.hours > 0); }
  static std::string said(const Spell& spell);
};

template <>
struct Description<TimeAbove> {
  static constexpr std::string_view name = "TimeAbove";
  static constexpr std::string_view meaning = "Time above one limit.";
  template <class Take>
  static void figures(Take take) {
    take("share", &TimeAbove::share, "", "share of the known time", digits(3));
    take("longest", &TimeAbove::longest, "", "longest spell as read", key("longest_spell"));
    take("longest_h", &TimeAbove::longest_h, "h", "its hours", key("longest_spell_hours"));
  }
};

template <>
struct Description<Percentiles> {
  static constexpr std::string_view name = "Percentiles";
  static constexpr std::string_view meaning =
      "5th, 50th and 95th percentile, weighted with known time.";
  template <class Take>
  static void figures(Take take) {
    take("p5", &Percentiles::p5, "", "at or below for 5 % of the time", digits(3));
    take("p50", &Percentiles::p50, "", "for half of it", digits(3));
    take("p95", &Percentiles::p95, "", "for 95 % of it", digits(3));
  }
  static std::string said(const Percentiles& percentiles, const Label& label);
};

// What months, seasons and weeks have in common.
template <class Take>
void figures_of_period(Take& take) {
  take("known_hours", &PeriodSummary::known_hours, "h", "time known");
  take("mean_rh_percent", &PeriodSummary::mean_rh_percent, "% RH", "mean at the surface",
       digits(3));
  take("share_above_low", &PeriodSummary::share_above_low, "",
       "share of known time above the low end", digits(3));
  take("share_above_high", &PeriodSummary::share_above_high, "", "above the high end", digits(3));
}

template <>
struct Description<MonthSummary> {
  static constexpr std::string_view name = "MonthSummary";
  static constexpr std::string_view meaning = "One calendar month of a store record.";
  template <class Take>
  static void figures(Take take) {
    take("year", &MonthSummary::year, "", "year");
    take("month", &MonthSummary::month, "", "month");
    figures_of_period(take);
  }
};

template <>
struct Description<SeasonSummary> {
  static constexpr std::string_view name = "SeasonSummary";
  static constexpr std::string_view meaning =
      "Three calendar months of a store record, of all its years together.";
  template <class Take>
  static void figures(Take take) {
    take("first_month", &SeasonSummary::first_month, "", "first month");
    figures_of_period(take);
  }
};

template <>
struct Description<WeekSummary> {
  static constexpr std::string_view name = "WeekSummary";
  static constexpr std::string_view meaning = "Seven calendar days of a store record.";
  template <class Take>
  static void figures(Take take) {
    take("start_s", &WeekSummary::start_s, "", "beginning of its first day", moment, key("start"));
    figures_of_period(take);
  }
  static bool nothing(const WeekSummary& week) { return !(week.known_hours > 0); }
};

template <>
struct Description<StoreAssessment> {
  static constexpr std::string_view name = "StoreAssessment";
  static constexpr std::string_view meaning = "What a record says of the store.";
  using A = StoreAssessment;
  template <class Take>
  static void figures(Take take) {
    take("verdict", &A::verdict, "", "verdict", at_a_glance);
    take("reason", &A::reason, "", "reason", at_a_glance);
    take("probability_dormant", &A::probability_dormant, "", "probability of dormant conditions",
         chance, at_a_glance);
    take("probability_borderline", &A::probability_borderline, "",
         "probability of borderline conditions", chance, at_a_glance);
    take("probability_active", &A::probability_active, "", "probability of active conditions",
         chance, at_a_glance);
    take("probability_below_all_time", &A::probability_below_all_time, "",
         "probability that no reading was truly above the low end", chance);
    take("set_point_rh_percent", &A::set_point_rh_percent, "% RH",
         "highest reading of this sensor that keeps to dormant conditions", digits(3), at_a_glance);
    take("too_humid_by_rh_percent", &A::too_humid_by_rh_percent, "% RH",
         "how much drier the record would have to read for that; below 0: how much it may rise",
         digits(2));
    take("correction_rh_percent", &A::correction_rh_percent, "% RH",
         "added to every reading, by the checks of the sensor", digits(3));
    take("accuracy_used_rh_percent", &A::accuracy_used_rh_percent, "% RH",
         "plus-minus of the sensor reckoned with: the maker's, or what the checks leave (95 %)",
         digits(3));
    take("set_point", &A::set_point, "", "what to keep the display at", at_a_glance);
    figures_of_time(take);
    figures_of_humidity(take);
    take("warnings", &A::warnings, "", "what the reader must know besides");
    take("options", &A::options, "", "judged with");
  }
  static std::string said(const StoreAssessment& assessment);

 private:
  template <class Take>
  static void figures_of_time(Take& take) {
    take("start_s", &A::start_s, "", "first reading", moment, key("start"));
    take("end_s", &A::end_s, "", "last reading", moment, key("end"));
    take("period_hours", &A::period_hours, "h", "length of the record");
    take("known_hours", &A::known_hours, "h", "time known", at_a_glance);
    take("coverage", &A::coverage, "", "share of the period that is known", digits(3), at_a_glance);
    take("gaps", &A::gaps, "", "gaps");
    take("longest_gap_hours", &A::longest_gap_hours, "h", "longest gap");
    take("readings", &A::readings, "", "readings assessed", key("readings_assessed"));
    take("left_out", &A::left_out, "", "readings left out", key("readings_left_out"));
  }
  template <class Take>
  static void figures_of_humidity(Take& take) {
    take("temperature_c", &A::temperature_c, "degrees C", "temperature of the air", digits(3));
    take("rh_percent", &A::rh_percent, "% RH", "humidity of the air", digits(3));
    take("surface_rh_percent", &A::surface_rh_percent, "% RH", "humidity at the surface", digits(3),
         at_a_glance);
    take("above_low", &A::above_low, "", "above the low end", at_a_glance);
    take("above_high", &A::above_high, "", "above the high end");
    take("share_condensing", &A::share_condensing, "", "share of known time with condensation",
         digits(3));
    take("excursions", &A::excursions, "", "times it became wet");
    take("wet_dry_cycles", &A::wet_dry_cycles, "", "times it became wet and dry again");
    take("time_of_wetness_hours", &A::time_of_wetness_hours, "h",
         "time of wetness (ISO 9223), no criterion for bronze disease");
    take("dry_at_end_hours", &A::dry_at_end_hours, "h",
         "how long it had been below the low end when the record ended", at_a_glance);
    take("months", &A::months, "", "months");
    take(
        "worst_month",
        [](const A& a) {
          return a.worst_month < 0 ? std::nullopt : std::optional<int>(a.worst_month);
        },
        "", "place of the worst month in `months`");
    take("seasons", &A::seasons, "", "seasons");
    take("worst_week", &A::worst_week, "", "worst week");
  }
};

template <>
struct Description<TwoLoggers> {
  static constexpr std::string_view name = "TwoLoggers";
  static constexpr std::string_view meaning = "What two loggers side by side say together.";
  template <class Take>
  static void figures(Take take) {
    using T = TwoLoggers;
    take("said", &T::said, "", "what follows", at_a_glance);
    take("agreement", &T::agreement, "", "whether they tell the same", at_a_glance);
    take("common_readings", &T::common_readings, "", "readings at times they share", at_a_glance);
    take("difference_rh_percent", &T::difference_rh_percent, "% RH",
         "mean of first less second, both corrected by checks", digits(3), at_a_glance);
    take("spread_rh_percent", &T::spread_rh_percent, "% RH", "its standard deviation", digits(2));
    take("difference_c", &T::difference_c, "K", "the same of temperature", digits(2));
    take("probability_of_difference", &T::probability_of_difference, "",
         "chance of such a difference if both are as accurate as is said of them", chance,
         at_a_glance);
    take("probability_dormant_together", &T::probability_dormant_together, "",
         "probability of dormant conditions with what both say", chance, at_a_glance);
    take("first", &T::first, "", "the first");
    take("second", &T::second, "", "the second");
  }
};

template <>
struct Description<LoggerFault> {
  static constexpr std::string_view name = "LoggerFault";
  static constexpr std::string_view meaning =
      "One fault of a logger file: what, where, what was done.";
  template <class Take>
  static void figures(Take take) {
    take("kind", &LoggerFault::kind, "", "fault");
    take("action", &LoggerFault::action, "", "line was");
    take("line", &LoggerFault::line, "", "line");
    take("field", &LoggerFault::field, "", "field");
    take("reason", &LoggerFault::reason, "", "what was found");
    take("file", &LoggerFault::file, "", "file, of a record joined from several");
  }
  static std::string said(const LoggerFault& fault) {
    return (fault.file.empty() ? "" : fault.file + ", ") + "line " + std::to_string(fault.line) +
           ", " + fault.field + ": " + fault.reason;
  }
};

template <>
struct Description<JoinedFile> {
  static constexpr std::string_view name = "JoinedFile";
  static constexpr std::string_view meaning = "One file of a record that was joined from several.";
  template <class Take>
  static void figures(Take take) {
    take("file", &JoinedFile::file, "", "file", at_a_glance);
    take("problem", &JoinedFile::problem, "", "why it could not be used");
    take("start_s", &first_moment, "", "first reading", moment, key("start"));
    take("end_s", &last_moment, "", "last reading", moment, key("end"));
    take("readings", &JoinedFile::readings, "", "readings that the record has from it");
    take("repeated", &JoinedFile::repeated, "", "left out: a file before has them too");
    take("disagreeing", &JoinedFile::disagreeing, "",
         "left out: a file before has others at the same times");
    take("interval_s", &JoinedFile::interval_s, "s", "usual interval");
    take("gap_limit_s", &JoinedFile::gap_limit_s, "s", "an interval longer than this is a gap");
  }
  static std::string said(const JoinedFile& file);

 private:
  using Moment = std::optional<std::int64_t>;
  static Moment first_moment(const JoinedFile& file) {
    return file.problem.empty() ? Moment(file.start_s) : std::nullopt;
  }
  static Moment last_moment(const JoinedFile& file) {
    return file.problem.empty() ? Moment(file.end_s) : std::nullopt;
  }
};

template <>
struct Description<FileMeeting> {
  static constexpr std::string_view name = "FileMeeting";
  static constexpr std::string_view meaning =
      "Where two files of a joined record overlap in time, or leave a gap between them.";
  template <class Take>
  static void figures(Take take) {
    take("kind", &FileMeeting::kind, "", "overlap or seam");
    take("earlier", &FileMeeting::earlier, "", "of the files before, the one that ends last");
    take("later", &FileMeeting::later, "", "later file");
    take("from_s", &FileMeeting::from_s, "", "from", moment, key("from"));
    take("to_s", &FileMeeting::to_s, "", "to", moment, key("to"));
    take("agreeing", &FileMeeting::agreeing, "", "readings of the same time and values");
    take("disagreeing", &FileMeeting::disagreeing, "",
         "readings of the same time and other values; those of the earlier file are kept");
    take("between", &FileMeeting::between, "",
         "readings of the later file at times that those before do not have");
  }
  static std::string said(const FileMeeting& meeting);
};

template <>
struct Description<LoggerRecord> {
  static constexpr std::string_view name = "LoggerRecord";
  static constexpr std::string_view meaning =
      "Readings in order of time, and what was wrong on the way.";
  template <class Take>
  static void figures(Take take) {
    take("file", &LoggerRecord::file, "", "file", at_a_glance);
    take("utc", &LoggerRecord::utc, "", "times are UTC; else as the file writes them");
    take("rows", &LoggerRecord::rows, "", "lines with data", at_a_glance);
    take("readings", &LoggerRecord::size, "", "readings", at_a_glance);
    take("dropped", &LoggerRecord::dropped, "", "lines that gave no reading", at_a_glance);
    take("start_s", &first_moment, "", "first reading", moment, key("start"));
    take("end_s", &last_moment, "", "last reading", moment, key("end"));
    take("interval_s", &LoggerRecord::interval_s, "s", "usual interval", at_a_glance);
    take("gap_limit_s", &LoggerRecord::gap_limit_s, "s", "an interval longer than this is a gap");
    take("fault_counts", &counted, "", "faults of each kind");
    take("faults", &LoggerRecord::faults, "", "faults");
    take("files", &LoggerRecord::files, "", "files that were joined; none: of one file");
    take("meetings", &LoggerRecord::meetings, "", "overlaps of files, and gaps between them");
    take("stuck", &stretches, "", "first and last place of the readings of a stuck sensor");
    take("read_as", &LoggerRecord::read_as, "", "what was proved or computed to read the file");
    take("gap_ends", &gaps, "", "places of the readings that follow a gap", apart);
    take("times_s", &LoggerRecord::times_s, "", "seconds since 1970-01-01", apart);
    take("temperature_c", &LoggerRecord::temperature_c, "degrees C", "temperature", apart);
    take("rh_percent", &LoggerRecord::rh_percent, "% RH", "humidity", apart);
  }
  static std::string said(const LoggerRecord& record);

 private:
  using Moment = std::optional<std::int64_t>;
  static Moment first_moment(const LoggerRecord& record) {
    return record.size() == 0 ? Moment() : record.times_s.front();
  }
  static Moment last_moment(const LoggerRecord& record) {
    return record.size() == 0 ? Moment() : record.times_s.back();
  }
  static std::map<std::string, std::size_t> counted(const LoggerRecord& record) {
    std::map<std::string, std::size_t> counts;
    for (std::size_t kind = 0; kind < kFaultKinds; ++kind)
      counts[std::string(to_string(static_cast<FaultKind>(kind)))] = record.fault_counts[kind];
    return counts;
  }
  static std::vector<std::int64_t> gaps(const LoggerRecord& record) {
    const std::vector<std::size_t> ends = record.gap_ends();
    return {ends.begin(), ends.end()};
  }
  static std::vector<std::pair<std::size_t, std::size_t>> stretches(const LoggerRecord& record) {
    std::vector<std::pair<std::size_t, std::size_t>> found;
    for (const Stretch& stretch : record.stuck) found.emplace_back(stretch.first, stretch.last);
    return found;
  }
};

}  // namespace aeruca::detail
