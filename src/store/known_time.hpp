#pragma once

// The readings that can be assessed, how long each stands for, and how far each is from the limits.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "aeruca/store.hpp"
#include "store/margins.hpp"

namespace aeruca::detail {

/// A view of the record where every reading of it can be assessed, of copies of those that can
/// where not. Valid while the record is.
class KnownTime {
 public:
  /// Throws InputError when a temperature is needed and the record has none.
  KnownTime(const LoggerRecord& record, const StoreOptions& options);
  KnownTime(const KnownTime&) = delete;
  KnownTime& operator=(const KnownTime&) = delete;

  std::span<const std::int64_t> times_s;
  std::span<const double> rh_percent;  ///< of the air, as read
  std::span<const double> temperature_c;
  std::span<const double> surface_rh;
  /// 1: no gap or unknown reading between this and the one before
  std::vector<std::uint8_t> joined;
  std::vector<double> seconds;  ///< known time each reading stands for, multiples of one half
  double total_s = 0;
  Margins low;  ///< eq 2
  Margins high;

  struct Block {
    double seconds;
    bool joined;  ///< its readings to each other and to the one before
  };
  std::vector<Block> blocks;
  std::vector<Extent> rh_extents;
  std::vector<Extent> surface_extents;

  [[nodiscard]] std::size_t size() const { return seconds.size(); }
  [[nodiscard]] std::span<const double> seconds_in(std::size_t block) const {
    const std::size_t first = block * kBlock;
    return std::span(seconds).subspan(first, block_end(block, size()) - first);
  }

 private:
  void take_as_read(const LoggerRecord& record);
  void take_by_temperature(const LoggerRecord& record, const StoreOptions& options);
  void take(const LoggerRecord& record, std::span<const std::uint8_t> assessable);
  void take_some(const LoggerRecord& record, std::span<const std::uint8_t> assessable);
  void weigh(const LoggerRecord& record);

  // Owned where some readings were left out, or the surface is not as the air.
  std::vector<std::int64_t> own_times_s_;
  std::vector<double> own_rh_percent_;
  std::vector<double> own_temperature_c_;
  std::vector<double> own_surface_rh_;
  std::vector<std::size_t> own_places_;  // in a record joined from several files
};

/// Time a reading stands for beside an open end: the median interval, or kLongestStand when that is
/// longer (s).
double stand_s(const LoggerRecord& record, std::size_t reading);

/// For each share, the smallest value with at least that share of the weight at or below it, then,
/// for each of those from above, the largest with at least that share at or above it. NaN for no
/// values or NaN among them.
std::vector<double> weighted_quantiles(std::span<const double> values,
                                       std::span<const double> weights,
                                       std::span<const double> shares,
                                       std::span<const double> shares_above = {});

/// The readings with a margin below some bias.
struct ReadingsAbove {
  double seconds = 0;
  Spell longest;  ///< joined readings in a row
};
ReadingsAbove readings_above(const KnownTime& known, const Margins& margins, double bias);
/// Seconds of the readings from `first` to before `end` that are above the limit as read.
double seconds_above(const KnownTime& known, const Margins& margins, std::size_t first,
                     std::size_t end);
/// The reading whose margin is the smallest b such that for every bias above b there is a spell of
/// at least `hours`; none when no joined stretch is that long (eq 3).
std::optional<std::size_t> reading_for_spell(const KnownTime& known, const Margins& margins,
                                             double hours);

/// Excursions above `high` that began dry, and those that dried again.
struct Cycles {
  std::size_t excursions = 0;
  std::size_t completed = 0;
};
Cycles count_cycles(const KnownTime& known, double hysteresis);

}  // namespace aeruca::detail
