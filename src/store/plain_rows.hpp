#pragma once

// Rows as nearly every logger writes them, read in one pass over the bytes. What is written in any
// other way, or has a fault, is left to the careful reader: a row that is read here gives exactly
// what the careful reader would have given.

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "base/written_time.hpp"
#include "store/logger_clock.hpp"
#include "store/logger_header.hpp"

namespace aeruca::detail {

class PlainRows {
 public:
  /// `highest_rh`: a humidity above is no plain row.
  PlainRows(const LoggerColumns& columns, double highest_rh);

  struct Row {
    std::int64_t time_s = 0;
    double temperature_c = 0;  // NaN: the field is empty, or there is no such column
    double rh_percent = 0;
  };

  /// Reads rows from the front of `text`, which begins where a line does, and calls take(row) for
  /// each; what it took. Rows count only when their times are written as `clock` says.
  struct Taken {
    std::size_t bytes = 0;
    long lines = 0;
  };
  template <class Take>
  Taken read(std::string_view text, const ClockState& clock, Take&& take) {
    Taken taken;
    set_clock(clock);
    if (text.size() < kReach) return taken;
    // The reader looks at most kReach bytes beyond the end of a line.
    const std::size_t last = text.substr(0, text.size() - kReach).rfind('\n');
    if (last == std::string_view::npos) return taken;
    const char* at = text.data();
    const char* const end = text.data() + last;
    Row row;
    while (at <= end) {
      const char* const next = read_row(at, row);
      if (next == nullptr) break;
      take(row);
      at = next;
      ++taken.lines;
    }
    taken.bytes = static_cast<std::size_t>(at - text.data());
    return taken;
  }

 private:
  void set_clock(const ClockState& clock);
  static constexpr std::size_t kReach = 32;
  enum class Quantity : std::uint8_t { none, moment, date, clock, temperature, rh };

  // Each reads at `at` and returns where it stopped; null: this is no plain row.
  const char* read_row(const char* at, Row& row);
  const char* read_field(const char* at, Quantity quantity, Row& row);
  const char* read_moment(const char* at);
  const char* read_since_1970(const char* at);
  const char* read_date(const char* at);
  const char* read_new_date(const char* at);
  [[nodiscard]] bool is_same_date(const char* at) const;
  const char* read_clock(const char* at);
  const char* read_half_of_day(const char* at, unsigned hour);
  const char* read_offset(const char* at);
  static const char* read_number(const char* at, bool comma, double& value);
  const char* pass_field(const char* at) const;
  const char* pass_rest(const char* at, std::size_t column) const;
  [[nodiscard]] const char* pass_blanks(const char* at) const;
  [[nodiscard]] bool ends_text(char c) const { return ends_field(c) || c == '"' || c == ' '; }
  [[nodiscard]] bool ends_field(char c) const { return c == separator_ || c == '\n' || c == '\r'; }

  std::vector<Quantity> wanted_;  // up to the last column that is wanted
  std::size_t count_;             // columns of the header
  char separator_;
  bool comma_;
  bool fahrenheit_;
  Moisture moisture_;
  bool moisture_fahrenheit_;
  double highest_rh_;
  double rh_scale_;
  ClockState clock_;

  // The date seldom changes from row to row, the offset hardly ever.
  std::array<char, 16> date_{};
  std::size_t date_size_ = 0;  // 0: none was read
  std::int64_t date_s_ = 0;
  std::array<char, 8> offset_{};
  std::size_t offset_size_ = 0;
  std::int64_t offset_s_ = 0;
  bool offset_given_ = false;
  std::int64_t clock_s_ = 0;  // time of day less the offset of the row being read
};

}  // namespace aeruca::detail
