#include "base/calendar.hpp"

#include <array>
#include <cstdio>

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// Takes `count` digits off the front of `text`; -1 when they are not there.
int take_digits(std::string_view& text, std::size_t count) {
  if (text.size() < count) return -1;
  int value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (!is_digit(text[i])) return -1;
    value = value * 10 + (text[i] - '0');
  }
  text.remove_prefix(count);
  return value;
}

bool take(std::string_view& text, char wanted) {
  if (text.empty() || text.front() != wanted) return false;
  text.remove_prefix(1);
  return true;
}

int days_in_month(int year, int month) {
  constexpr std::array<int, 12> kDays{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return kDays[static_cast<std::size_t>(month - 1)] + (month == 2 && leap ? 1 : 0);
}

std::optional<std::int64_t> take_date(std::string_view& text) {
  const int year = take_digits(text, 4);
  if (year < 0 || !take(text, '-')) return {};
  const int month = take_digits(text, 2);
  if (month < 1 || month > 12 || !take(text, '-')) return {};
  const int day = take_digits(text, 2);
  if (day < 1 || day > days_in_month(year, month)) return {};
  return days_from_civil(year, month, day);
}

// The fraction is left off; a point or comma must have a digit after it.
bool skip_fraction(std::string_view& text) {
  if (text.empty() || (text.front() != '.' && text.front() != ',')) return true;
  text.remove_prefix(1);
  if (text.empty() || !is_digit(text.front())) return false;
  while (!text.empty() && is_digit(text.front())) text.remove_prefix(1);
  return true;
}

std::optional<int> take_clock(std::string_view& text) {
  const int hour = take_digits(text, 2);
  if (hour < 0 || hour > 23 || !take(text, ':')) return {};
  const int minute = take_digits(text, 2);
  if (minute < 0 || minute > 59) return {};
  int second = 0;
  if (take(text, ':')) {
    second = take_digits(text, 2);
    if (second < 0 || second > 59 || !skip_fraction(text)) return {};
  }
  return (hour * 60 + minute) * 60 + second;
}

// Offset at the end of a time in seconds east of UTC; false when the rest is not one.
bool take_offset(std::string_view text, int& offset) {
  if (text == "Z" || text == "z") {
    offset = 0;
    return true;
  }
  const bool west = text.front() == '-';
  if (!west && text.front() != '+') return false;
  text.remove_prefix(1);
  const int hours = take_digits(text, 2);
  if (hours < 0 || hours > 14) return false;
  int minutes = 0;
  if (!text.empty()) {
    take(text, ':');
    minutes = take_digits(text, 2);
    if (minutes < 0 || minutes > 59 || !text.empty()) return false;
  }
  offset = (west ? -1 : 1) * (hours * 60 + minutes) * 60;
  return true;
}

std::optional<IsoTime> finish(std::int64_t days, std::string_view clock) {
  const std::optional<int> second_of_day = take_clock(clock);
  if (!second_of_day) return {};
  IsoTime time{days * kDaySeconds + *second_of_day, false};
  while (!clock.empty() && clock.front() == ' ') clock.remove_prefix(1);
  if (!clock.empty()) {
    int offset = 0;
    if (!take_offset(clock, offset)) return {};
    time.seconds -= offset;
    time.has_offset = true;
  }
  return time;
}

}  // namespace

// Years are counted from March so that the leap day comes last; an era is 400 years, 146 097 days.
std::int64_t days_from_civil(int year, int month, int day) {
  const std::int64_t y = month <= 2 ? year - 1 : year;
  const std::int64_t era = (y >= 0 ? y : y - 399) / 400;
  const std::int64_t year_of_era = y - era * 400;
  const std::int64_t day_of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year -
         719468;
}

Civil civil_from_days(std::int64_t days) {
  days += 719468;
  const std::int64_t era = (days >= 0 ? days : days - 146096) / 146097;
  const std::int64_t day_of_era = days - era * 146097;
  const std::int64_t year_of_era =
      (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
  const std::int64_t day_of_year =
      day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
  const auto day = static_cast<int>(day_of_year - (153 * month_from_march + 2) / 5 + 1);
  const auto month =
      static_cast<int>(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
  return {static_cast<int>(year_of_era + era * 400) + (month <= 2 ? 1 : 0), month, day};
}

bool is_plausible_time(std::int64_t seconds) {
  return seconds >= kDaySeconds * days_from_civil(1900, 1, 1) &&
         seconds < kDaySeconds * days_from_civil(2101, 1, 1);
}

std::optional<std::int64_t> parse_date(std::string_view text) {
  const std::optional<std::int64_t> days = take_date(text);
  return text.empty() ? days : std::nullopt;
}

std::optional<IsoTime> parse_iso_time(std::string_view text) {
  const std::optional<std::int64_t> days = take_date(text);
  if (!days || text.empty()) return {};
  if (text.front() != 'T' && text.front() != ' ' && text.front() != 't') return {};
  text.remove_prefix(1);
  return finish(*days, text);
}

std::optional<IsoTime> parse_iso_time(std::string_view date, std::string_view clock) {
  const std::optional<std::int64_t> days = parse_date(date);
  if (!days) return {};
  return finish(*days, clock);
}

std::string iso_text(std::int64_t seconds) {
  std::int64_t days = seconds / kDaySeconds;
  if (seconds < days * kDaySeconds) --days;
  const auto rest = static_cast<int>(seconds - days * kDaySeconds);
  const Civil civil = civil_from_days(days);
  std::array<char, 48> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%04d-%02d-%02dT%02d:%02d:%02d", civil.year,
                civil.month, civil.day, rest / 3600, rest / 60 % 60, rest % 60);
  return buffer.data();
}

}  // namespace aeruca::detail
