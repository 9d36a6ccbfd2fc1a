#pragma once

// What a record says of the store, described once.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/store.hpp"
#include "aeruca/two_loggers.hpp"
#include "base/text.hpp"
#include "render/describe_record.hpp"
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
    take("crystallisation_rh_percent", &OnsetCurve::crystallisation_rh_percent, "% RH",
         "where a brine of the salt has crystallised on drying", digits(3));
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
    take("share_brine_may_last", &A::share_brine_may_last, "",
         "share of known time in which a brine may have lasted, crystallising late", digits(3));
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

}  // namespace aeruca::detail
