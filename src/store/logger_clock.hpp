#pragma once

// Times of a logger file: how they are written, and in which order day and month stand.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/written_time.hpp"
#include "store/logger_series.hpp"

namespace aeruca::detail {

/// What the lines so far have settled.
struct ClockState {
  bool utc = false;            ///< times have offsets
  bool numeric = false;        ///< dates whose shape does not tell the day from the month
  bool since_1970 = false;     ///< times are seconds since 1970
  bool without_clock = false;  ///< times are dates alone, taken at noon
  bool order_known = false;    ///< `order` is proved or given; else it is a working assumption
  DayOrder order = DayOrder::day_first;
};

class LoggerClock {
 public:
  explicit LoggerClock(const LoggerReadOptions& options);

  /// The time of a line whose clock stands apart or not (empty then); else what is wrong with it.
  struct Answer {
    std::optional<std::int64_t> time_s;
    std::string problem;
  };
  Answer read(std::string_view date, std::optional<std::string_view> clock, long line);

  /// None before the first good line.
  [[nodiscard]] const std::optional<ClockState>& state() const { return state_; }

  /// Exchanges day and month of all that was read before a line proved the other order.
  void turn_if_proved_otherwise(RawSeries& series);

  /// At the end of the file: the order from the course of the clock where no date has proved it.
  /// Throws FileError when nothing tells it.
  void settle(RawSeries& series, const std::string& file, const std::string& field);

  /// The order of day and month, where the file has proved it.
  [[nodiscard]] DateOrder proved_order() const { return proved_; }

  /// What was proved, and by what; empty when nothing had to be.
  [[nodiscard]] const std::string& proof() const { return proof_; }

 private:
  void settle_order(RawSeries& series, const std::string& file, const std::string& field);
  void settle_days(const RawSeries& series, const std::string& file, const std::string& field);
  std::string misfit(const WrittenTime& time, std::string_view text) const;
  void prove(DayOrder order, const std::string& by);
  void start(const WrittenTime& time, std::string_view text, long line);
  void note_order(DayOrder order, std::string_view text, long line);

  bool given_;  // the order was
  DayOrder given_order_;
  std::optional<ClockState> state_;
  bool turn_ = false;
  std::string first_;  // the first time, as written
  long first_line_ = 0;
  std::string proof_;
  DateOrder proved_ = DateOrder::from_file;
};

}  // namespace aeruca::detail
