#pragma once

// From rows in file order to a record in order of time.

#include <string>
#include <vector>

#include "aeruca/logger.hpp"

namespace aeruca::detail {

/// What can be in a store, degrees C.
inline constexpr double kColdestC = -40;
inline constexpr double kHottestC = 80;

/// How the columns are called in messages.
struct FieldNames {
  std::string time = "time";
  std::string temperature = "temperature";
  std::string rh = "RH";
};

/// Counts every fault and keeps the first of each kind with their line.
class FaultLog {
 public:
  explicit FaultLog(std::size_t listed) : listed_(listed) {}

  /// `reason` is called only for a fault that is kept.
  template <class Reason>
  void add(FaultKind kind, FaultAction action, long line, const std::string& field, Reason&& reason,
           const std::string& file = {}) {
    if (record_.fault_counts[static_cast<std::size_t>(kind)]++ < listed_) {
      record_.faults.push_back({kind, action, line, field, reason(), file});
    }
  }
  /// The faults of a record that becomes part of another, under the name of its file; but not its
  /// gaps, stuck stretches and spikes, which its neighbours may fill or lengthen.
  void take_over(const LoggerRecord& record);
  [[nodiscard]] std::size_t count(FaultKind kind) const { return record_.count(kind); }
  [[nodiscard]] const std::vector<LoggerFault>& faults() const { return record_.faults; }
  void move_into(LoggerRecord& record);

 private:
  std::size_t listed_;
  LoggerRecord record_;  // only its faults and counts are used
};

/// Rows that could be read, in file order. The arrays have one length.
struct RawSeries {
  std::vector<std::int64_t> times_s;
  std::vector<double> temperature_c;
  std::vector<double> rh_percent;
  LineNumbers lines;

  [[nodiscard]] std::size_t size() const { return times_s.size(); }
  void reserve(std::size_t rows);
  void add(std::int64_t time_s, double temperature, double rh, long line);
};

/// Throws InputError for an option out of range.
void check_options(const LoggerReadOptions& options);

/// True when the reading can be; else a fault is added.
bool check_possible(double temperature_c, double rh_percent, long line, const FieldNames& names,
                    const LoggerReadOptions& options, FaultLog& log);

/// The longest interval that is no gap (s).
double gap_limit_s(double interval_s, const LoggerReadOptions& options);

/// Marks gaps, stuck stretches and spikes of readings in order, and moves all faults into the record.
void mark_what_is_not_known(LoggerRecord& record, const FieldNames& names,
                            const LoggerReadOptions& options, FaultLog& log);

/// Brings the rows into order, drops duplicates, marks clock changes, gaps and stuck stretches.
LoggerRecord order_series(RawSeries series, bool utc, const FieldNames& names,
                          const LoggerReadOptions& options, FaultLog& log);

}  // namespace aeruca::detail
