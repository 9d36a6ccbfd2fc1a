#pragma once

// Dates and times as people and instruments write them: ISO 8601, 31.03.2024, 31/03/2024,
// 03/31/2024 2:05 PM, 2024/03/31, 31-Mar-2024, seconds since 1970.

#include <cstdint>
#include <optional>
#include <string_view>

namespace aeruca::detail {

/// Which of two numbers before a year is the day.
enum class DayOrder { day_first, month_first };

/// What a written date says about that order.
enum class OrderSaid {
  by_shape,     ///< it is clear from how the date is written: 2024-03-31, 31.03.2024, 31-Mar-2024
  either,       ///< 03/04/2024: both orders make a date
  day_first,    ///< 31/03/2024: only this order does
  month_first,  ///< 03/31/2024: only this order does
};

struct WrittenDate {
  std::int64_t days = 0;  ///< since 1970-01-01
  OrderSaid said = OrderSaid::by_shape;
};

/// A date and nothing else; `order` decides where both make a date. Months may be names of three
/// letters or more in English, German, French, Spanish, Italian, Portuguese, Dutch, Swedish,
/// Danish, Norwegian or Polish; years have four digits, or two (20..) behind day and month.
std::optional<WrittenDate> parse_written_date(std::string_view text, DayOrder order);

struct WrittenTime {
  std::int64_t seconds = 0;  ///< since 1970-01-01T00:00:00; UTC when `has_offset`
  bool has_offset = false;
  OrderSaid said = OrderSaid::by_shape;
};

/// A date and a time of day (14:05, 2:05:30 PM, an offset from UTC behind it), or the seconds (9 or
/// 10 digits) or milliseconds (12 or 13) since 1970 in UTC.
std::optional<WrittenTime> parse_written_time(std::string_view text, DayOrder order);
/// The same from a date and a time of day apart.
std::optional<WrittenTime> parse_written_time(std::string_view date, std::string_view clock,
                                              DayOrder order);

/// The time whose date has day and month of `seconds` exchanged; none where that is no date.
std::optional<std::int64_t> day_and_month_exchanged(std::int64_t seconds);

}  // namespace aeruca::detail
