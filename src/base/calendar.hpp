#pragma once

// ISO 8601 dates and times in the extended form, without locale or time zone tables.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace aeruca::detail {

/// Days since 1970-01-01 of a date in the proleptic Gregorian calendar, and back.
std::int64_t days_from_civil(int year, int month, int day);
struct Civil {
  int year, month, day;
};
Civil civil_from_days(std::int64_t days);

/// Whether a time lies in the years 1900 to 2100: any other is a slip of a key or of a clock.
bool is_plausible_time(std::int64_t seconds);

struct IsoTime {
  std::int64_t seconds = 0;  ///< since 1970-01-01T00:00:00; UTC when `has_offset`
  bool has_offset = false;
};

/// 2024-03-31 and nothing else, as days since 1970-01-01.
std::optional<std::int64_t> parse_date(std::string_view text);

/// 2024-03-31T02:00[:30[.5]][Z|+01:00|+0100|+01] with T, t or a space; empty when it is anything
/// else.
std::optional<IsoTime> parse_iso_time(std::string_view text);
/// The same from a date 2024-03-31 and a clock time 02:00... apart.
std::optional<IsoTime> parse_iso_time(std::string_view date, std::string_view clock);

/// "2024-03-31T02:00:30" of seconds since 1970-01-01T00:00:00.
std::string iso_text(std::int64_t seconds);

}  // namespace aeruca::detail
