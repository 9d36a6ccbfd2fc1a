#pragma once

/// \file
/// Was the store dry enough for a chloride-bearing copper alloy, how surely, and for how long was
/// it not?
///
/// Words.
///   onset band   humidity below `low` at which no activity was reported, and above `high` at which
///                it is expected: a band, not a cliff. It may depend on temperature.
///   surface      the object may be cooler than the air the logger measures. With the vapour
///                pressure e = RH p(T) the humidity at the surface is
///                  RH_s = RH p(T) / p(T - cooler)                                         (eq 1)
///                p = saturation pressure over liquid water (IAPWS-IF97, `saturation_pressure_pa`).
///   known time   each reading stands for half the interval to each neighbour; next to a gap, at
///                the ends and beside readings that are not known, for half the median interval;
///                never for more than 12 h to a side (`kLongestStandSeconds`), however rare the
///                readings are.
///   spell        readings in a row above a limit with no gap and no unknown reading between them.
///   margin       how far the logger would have to be wrong for a reading to lie on a limit:
///                  m = limit(T_s) p(T - cooler) / p(T) - RH                               (eq 2)
///                (percent RH; above the limit: m < 0)
///
/// Sensor. The maker's plus-minus `accuracy` is taken as one unknown bias shared by the whole
/// record, every value inside equally likely (uniform: standard uncertainty accuracy / sqrt 3), or
/// as the 95 % interval of a normal distribution (accuracy / 1.96) when asked. A further error of
/// each reading, independent and normal, can be given (`random_rh_percent`, one standard deviation,
/// default 0: the whole error is taken as bias, the cautious reading, for bias does not average
/// out). With F the distribution of the bias, a reading is truly above with probability 1 - F(m);
/// all probabilities below are exact in F, without sampling, because every condition used is
/// monotone in the bias:
///   below all the time    F(smallest m over the record)
///                         (with a random error: product over readings)
///   spell of at least L   1 - F(b), b = min over windows of length L of (largest m inside)  (eq 3)
///   share of at least s   1 - F(b), b = the s-quantile of m, weighted with known time
/// The random error enters the shares and `probability_below_all_time`; spells average it out.
///
/// Checks over saturated salts (`checks`, see sensor_check.hpp) replace the maker's accuracy: every
/// reading is corrected by what they say of the sensor at the limit, said in `warnings`, and what is
/// left is normal. Drift since the sensor was last calibrated or checked (`drift_rh_percent_per_year`
/// from `calibrated_s`) adds a bias that grows evenly with time, its rate unknown within plus-minus,
/// understood as the accuracy is: all probabilities are then means over `kDriftRates` rates, each as
/// probable (off by less than 1 % of one; simulated in the tests). Shares and spells as read are
/// not touched by it.
///
/// Verdict. With the defaults of StoreOptions (our own working rules, not a published standard; the
/// kinetics behind them is only "spots appear within hours to weeks of a humid spell"):
///
///     active conditions    a spell above `high` of at least 24 h, or at least 5 % of known time
///                          above `high`
///     dormant conditions   no spell above `low` of 24 h or more, and less than 1 % of known time
///                          above `low`
///     borderline           what lies between
///
/// The three exclude each other and their probabilities add up to 1. The verdict follows from all
/// three, in this order:
///
///     not known    fewer than 24 readings assessed: no probability is given either
///     active       P(active) >= 0.5, whatever the coverage
///     not known    coverage < 0.75, known time < 7 days, or no reading assessed
///     dormant      P(dormant) >= 0.95
///     borderline   everything else
///
/// The thresholds are unequal because the two mistakes are: to call a moist store dormant costs the
/// object, to call a dry one borderline costs a look at the logger. So borderline is what is left
/// when nothing is sure enough, and it may well be less likely than dormant: with P(dormant) 0.63
/// and P(borderline) 0.37 the verdict is borderline, and no text calls 0.37 its probability. The
/// reason then gives all three and names what keeps the record from dormant: the humidity read, or
/// the accuracy of the sensor.
/// A limit without an upper end gives dormant, borderline or not known, never active.
///
/// Set-point. What the display of this logger may show so that the conditions are dormant with the
/// probability asked (dormant_probability, p): with q_p the bias that is exceeded with probability
/// 1 - p,
///   set-point       least of limit(T_s) p(T - cooler) / p(T) over the record, less q_p       (eq 4)
///   too humid by    q_p less the bias from which on the record is no longer dormant          (eq 5)
/// A record that never reads above the set-point, at the temperatures of this one, is dormant with
/// probability p or more; this record would be if it were drier by eq 5 throughout (below 0: it may
/// rise by so much). Of the limit its low end counts, taken as known; the spread between published
/// limits is not in it, nor each reading's own error, which spells average out.
///
/// A record proves nothing about the time it does not cover: fewer than 300 days, or a season
/// missing, is said in `warnings`. Humidity says what can react, not how fast: these are
/// conditions, not corrosion rates.
///
/// Validity. Surface from 0 to 60 degrees C; readings outside are left out of the assessment and
/// counted when `cooler_c` is not 0 or the onset depends on temperature. Accuracy of eq 1: better
/// than 1e-5 relative to IAPWS-IF97 (the ratio is interpolated on a 0.25 degree grid); the sensor
/// dominates by far.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"
#include "aeruca/logger.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/sensor_check.hpp"

namespace aeruca {

/// A humidity limit, constant or changing with temperature.
struct OnsetCurve {
  std::string id;  ///< "scott-1990", "halite", "limit 42 % RH"
  std::string title;
  std::string source;  ///< key of a Source; empty for a limit of the user's own
  /// Increasing, at the surface; one value: the same at all temperatures
  std::vector<double> temperature_c;
  std::vector<double> low_rh_percent;  ///< one for each temperature, 0 to 100
  /// One for each temperature, >= low; all NaN: the source names no upper end, and active
  /// conditions cannot be told from it
  std::vector<double> high_rh_percent;
  /// Of a salt: where its brine has crystallised on drying, measured; NaN: not known
  double crystallisation_rh_percent = kNotGiven;
};

/// A published band, the same at all temperatures. A band without an upper end (NaN) stays without.
[[nodiscard]] OnsetCurve onset_curve(const OnsetBand& band);
/// The band of this id, or the chosen one when the id is empty. Throws UnknownName.
[[nodiscard]] OnsetCurve published_onset(const Dataset& dataset, std::string_view id = {});
/// A single limit of the user's own, taken as low and high end at once. Throws InputError outside 0
/// to 100.
[[nodiscard]] OnsetCurve onset_curve(double limit_rh_percent);

/// The deliquescence of a salt as a band of plus-minus two standard uncertainties, at the
/// temperatures (every 5 degrees from 0 to 50) around 25 degrees C where it is known; where only 25
/// is known, the title says that it serves at every temperature. Throws UnknownName, and InputError
/// when it is not known.
[[nodiscard]] OnsetCurve salt_onset_curve(const Dataset& dataset, std::string_view salt);

/// How the maker's plus-minus is understood.
enum class AccuracyMeaning { uniform, normal_95 };
/// "uniform" or "normal_95", and back. Throws InputError for any other word.
[[nodiscard]] std::string_view to_string(AccuracyMeaning meaning);
[[nodiscard]] AccuracyMeaning accuracy_meaning(std::string_view word);

/// Longest time one reading stands for (s): 12 h to each side, our own working rule. Humidity
/// follows the day; a reading older than that says nothing of now.
inline constexpr double kLongestStandSeconds = 24 * 3600.0;

/// Probability of active conditions from which the verdict is active: as likely as not.
inline constexpr double kActiveProbability = 0.5;

/// Rates of drift that probabilities are means over.
inline constexpr int kDriftRates = 33;

/// How a record is judged.
struct StoreOptions {
  OnsetCurve onset;                ///< required
  double accuracy_rh_percent = 3;  ///< plus-minus of the sensor as its maker states it (0 to 30)
  AccuracyMeaning accuracy_meaning = AccuracyMeaning::uniform;
  std::vector<SensorCheck> checks;       ///< of the sensor over saturated salts
  double drift_rh_percent_per_year = 0;  ///< plus-minus (0 to 20); wants `calibrated_s`
  /// When the sensor was last calibrated or checked, seconds since 1970-01-01T00:00:00
  std::optional<std::int64_t> calibrated_s;
  double random_rh_percent = 0;  ///< standard deviation of each reading's own error (0 to 10)
  double cooler_c = 0;           ///< how much cooler than the air the object is, K (-20 to 20)
  /// A wet excursion ends at least this much below where it began (0 to 20)
  double hysteresis_rh_percent = 2;
  double active_spell_h = 24;         ///< see Verdict (> 0)
  double active_share = 0.05;         ///< (0 to 1)
  double dormant_share = 0.01;        ///< (0 to 1)
  double dormant_probability = 0.95;  ///< (0.5 to 1)
  double minimum_coverage = 0.75;     ///< (0 to 1)
  double minimum_days = 7;            ///< (>= 0)
  int minimum_readings = 24;          ///< below it nothing is judged (>= 0)
};

/// The beginning of a day "2026-03-01", for `calibrated_s`. Throws InputError for anything else.
[[nodiscard]] std::int64_t calibrated_on(std::string_view day);

/// A figure as read, and at the ends of the sensor's accuracy.
struct SensorRange {
  double if_reads_high = 0;  ///< the truth is lower than the reading by the accuracy
  double as_read = 0;
  double if_reads_low = 0;  ///< the truth is higher than the reading by the accuracy
  double expected = 0;  ///< mean over the sensor's error; NaN where it is not worked out (spells)
};

/// Readings in a row above a limit.
struct Spell {
  double hours = 0;          ///< 0: none
  std::int64_t start_s = 0;  ///< time of the first reading
  std::int64_t end_s = 0;    ///< time of the last reading
  bool touches_gap = false;  ///< a gap or unknown reading borders it: it may have been longer
};

/// Time above one limit.
struct TimeAbove {
  SensorRange share;      ///< of known time, 0 to 1
  Spell longest;          ///< as read
  SensorRange longest_h;  ///< hours of the longest spell; `expected` is NaN
};

/// What a part of the record says. Days are those of the record's own clock.
struct PeriodSummary {
  double known_hours = 0;
  double mean_rh_percent = 0;  ///< at the surface, weighted with known time
  double share_above_low = 0;  ///< of known time, as read
  double share_above_high = 0;
};

/// One calendar month of the record.
struct MonthSummary : PeriodSummary {
  int year = 0;
  int month = 0;  ///< 1 to 12
};

/// Three calendar months, of all years of the record together.
struct SeasonSummary : PeriodSummary {
  int first_month = 0;  ///< 12 (December to February), 3, 6 or 9
};

/// Seven calendar days in a row.
struct WeekSummary : PeriodSummary {
  std::int64_t start_s = 0;  ///< beginning of the first day
};

/// 5th, 50th and 95th percentile, weighted with known time; the smallest reading with at least that
/// share of known time at or below it. NaN when nothing is known.
struct Percentiles {
  double p5 = 0, p50 = 0, p95 = 0;
};

enum class Verdict { dormant, borderline, active, not_known };
/// "dormant", "borderline", "active" or "not known".
[[nodiscard]] std::string_view to_string(Verdict verdict);

/// What the record says of the store.
struct StoreAssessment {
  StoreOptions options;      ///< as used
  std::int64_t start_s = 0;  ///< first reading
  std::int64_t end_s = 0;    ///< last reading
  double period_hours = 0;   ///< last minus first, plus one median interval
  double known_hours = 0;
  double coverage = 0;           ///< known_hours / period_hours, 0 to 1
  double longest_gap_hours = 0;  ///< time between the two readings that border it; 0: no gap
  std::size_t gaps = 0;
  std::size_t readings = 0;  ///< assessed
  std::size_t left_out = 0;  ///< stuck, without temperature where it is needed, or outside validity
  Percentiles temperature_c;  ///< of the air, as read; NaN without temperatures
  Percentiles rh_percent;     ///< of the air, as read
  Percentiles surface_rh_percent;
  TimeAbove above_low;
  TimeAbove above_high;         ///< NaN and no spell when the band has no upper end
  double share_condensing = 0;  ///< of known time with surface humidity >= 100 %, as read
  /// Times the surface went above `high` (`low` without one) after having been dry
  std::size_t excursions = 0;
  /// Excursions that came back below `low` (or `hysteresis` lower)
  std::size_t wet_dry_cycles = 0;
  /// Of a salt whose crystallisation humidity is known: share of known time above `low`, or since
  /// then not yet below that, when a brine may have lasted; NaN else
  double share_brine_may_last = kNotGiven;
  /// Air above 0 degrees C and 80 % RH (ISO 9223): NOT a bronze-disease criterion, chloride salts
  /// wet a surface far below 80 %; NaN without T
  double time_of_wetness_hours = 0;
  /// From the last reading above `low` to the last one assessed, as read, gaps included; from the
  /// first one when none was above; 0 when the last one is; NaN when nothing is known.
  double dry_at_end_hours = 0;
  std::vector<MonthSummary> months;  ///< in order of time
  int worst_month = -1;  ///< index into months: most time above `high`, then above `low`, then
                         ///< highest mean; -1: no reading assessed
  std::vector<SeasonSummary> seasons;     ///< those with known time, from December to February on
  WeekSummary worst_week;                 ///< by the same order; known_hours 0: no reading assessed
  double probability_below_all_time = 0;  ///< that no reading was truly above `low`
  double probability_dormant = 0;         ///< of dormant conditions in the time known
  double probability_borderline = 0;
  /// Of active conditions in the time known; NaN without an upper end
  double probability_active = 0;
  /// Highest reading that keeps to dormant conditions (eq 4); NaN when nothing is known, below 0
  /// where the sensor is too poor to show any
  double set_point_rh_percent = 0;
  /// By how much the record is above dormant conditions (eq 5); NaN when nothing is known
  double too_humid_by_rh_percent = 0;
  std::string set_point;  ///< what to keep the display at, in a sentence; empty when not known
  /// Added to every reading, by the checks of the sensor (percent RH); 0 without
  double correction_rh_percent = 0;
  /// Plus-minus that was reckoned with: the maker's, or what the checks leave (95 %, normal)
  double accuracy_used_rh_percent = 0;
  Verdict verdict = Verdict::not_known;
  std::string reason;                 ///< one sentence with the figures behind the verdict
  std::vector<std::string> warnings;  ///< what the reader must know besides
};

/// Judges a record. Errors: InputError when an option is out of range, the onset curve is empty or
/// not ordered, or a temperature is needed (cooler_c not 0, onset changing with temperature) and
/// the record has none.
[[nodiscard]] StoreAssessment assess_store(const LoggerRecord& record, const StoreOptions& options);

/// Humidity at a surface cooler than the air by `cooler_c` (percent), eq 1: 42 % at 20 degrees C is
/// 44.7 % at a surface 1 degree cooler, 47.6 % at 2. May exceed 100: water condenses. NaN in, NaN
/// out. Errors: InputError when the air or the surface lies outside 0 to 60 degrees C or rh_percent
/// < 0.
[[nodiscard]] double surface_rh_percent(double rh_percent, double temperature_c, double cooler_c);

}  // namespace aeruca
