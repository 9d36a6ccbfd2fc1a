#pragma once

// The readings that can be assessed, how long each stands for, and how far each is from the limits.

#include <cstdint>
#include <span>
#include <vector>

#include "aeruca/store.hpp"

namespace aeruca::detail {

struct KnownTime {
  std::vector<std::int64_t> times_s;
  std::vector<double> seconds;     ///< known time each reading stands for, multiples of one half
  std::vector<double> rh_percent;  ///< of the air, as read
  std::vector<double> temperature_c;
  std::vector<double> surface_rh;
  std::vector<double> margin_low;  ///< eq 2
  std::vector<double> margin_high;
  /// 1: no gap or unknown reading between this and the one before
  std::vector<std::uint8_t> joined;
  double total_s = 0;
  std::size_t stuck = 0;    ///< left out: the sensor stood still
  std::size_t outside = 0;  ///< left out: temperature missing, or outside the valid range

  [[nodiscard]] std::size_t size() const { return seconds.size(); }
};

/// Time a reading stands for beside an open end: the median interval, or kLongestStand when that is
/// longer (s).
double stand_s(const LoggerRecord& record);

/// Throws InputError when a temperature is needed and the record has none.
KnownTime known_time(const LoggerRecord& record, const StoreOptions& options);

/// For each share, the smallest value with at least that share of the weight at or below it. NaN
/// for no values or NaN among them.
std::vector<double> weighted_quantiles(std::span<const double> values,
                                       std::span<const double> weights,
                                       std::span<const double> shares);

/// Share of known time with a margin below `bias`.
double share_above(const KnownTime& known, std::span<const double> margins, double bias);
/// Longest run of joined readings with a margin below `bias`.
Spell longest_spell(const KnownTime& known, std::span<const double> margins, double bias);
/// Smallest b such that for every bias above b there is a spell of at least `hours`; infinity when
/// no joined stretch is that long (eq 3).
double bias_for_spell(const KnownTime& known, std::span<const double> margins, double hours);

/// Excursions above `high` that began dry, and those that dried again.
struct Cycles {
  std::size_t excursions = 0;
  std::size_t completed = 0;
};
Cycles count_cycles(const KnownTime& known, double hysteresis);

/// One entry for each calendar month with known time.
std::vector<MonthSummary> summarise_months(const KnownTime& known);
/// Index of the worst month; -1 when there is none.
int worst_month(const std::vector<MonthSummary>& months);

}  // namespace aeruca::detail
