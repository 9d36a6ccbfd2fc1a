#include "base/written_time.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "base/calendar.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
}

void pass_blanks(std::string_view& text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
}

struct MonthName {
  std::string_view root;
  int month;
};

// Beginnings in lower case that no other month has, in any of the languages; letters beyond ASCII
// are left out of both sides.
constexpr std::array<MonthName, 46> kMonths{{
    {"jan", 1},  {"jn", 1},   {"ene", 1},  {"gen", 1},  {"sty", 1},  {"feb", 2},  {"fev", 2},
    {"fv", 2},   {"lut", 2},  {"mar", 3},  {"mr", 3},   {"mrz", 3},  {"maa", 3},  {"mrt", 3},
    {"apr", 4},  {"avr", 4},  {"abr", 4},  {"kwi", 4},  {"may", 5},  {"mai", 5},  {"maj", 5},
    {"mag", 5},  {"mei", 5},  {"jun", 6},  {"juin", 6}, {"giu", 6},  {"cze", 6},  {"jul", 7},
    {"juil", 7}, {"lug", 7},  {"lip", 7},  {"aug", 8},  {"aou", 8},  {"ao", 8},   {"ago", 8},
    {"sie", 8},  {"sep", 9},  {"set", 9},  {"wrz", 9},  {"oct", 10}, {"okt", 10}, {"ott", 10},
    {"out", 10}, {"nov", 11}, {"dec", 12}, {"dez", 12},
}};
constexpr std::array<MonthName, 8> kMoreMonths{{{"dic", 12},
                                                {"dc", 12},
                                                {"des", 12},
                                                {"gru", 12},
                                                {"lis", 11},
                                                {"paz", 10},
                                                {"pa", 10},
                                                {"jui", 0}}};

int month_named(std::string_view name) {
  std::string plain;
  for (const char c : name) {
    if (static_cast<unsigned char>(c) < 0x80)
      plain += c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  }
  const auto longest_of = [&](const auto& months) {
    const MonthName* found = nullptr;
    for (const MonthName& known : months) {
      if (plain.rfind(known.root, 0) == 0 &&
          (found == nullptr || known.root.size() > found->root.size()))
        found = &known;
    }
    return found == nullptr ? 0 : found->month;
  };
  const int month = longest_of(kMonths);
  return month != 0 ? month : longest_of(kMoreMonths);
}

struct Piece {
  int value = -1;        // a number; -1: a word
  std::size_t size = 0;  // characters
  int month = 0;         // of a word
};

std::optional<Piece> take_piece(std::string_view& text) {
  Piece piece;
  if (!text.empty() && is_digit(text.front())) {
    piece.value = 0;
    while (piece.size < text.size() && is_digit(text[piece.size])) {
      if (piece.size == 4) return {};
      piece.value = piece.value * 10 + (text[piece.size++] - '0');
    }
  } else {
    while (piece.size < text.size() && is_letter(text[piece.size])) ++piece.size;
    if (piece.size < 3) return {};
    piece.month = month_named(text.substr(0, piece.size));
    if (piece.month == 0) return {};
  }
  text.remove_prefix(piece.size);
  return piece;
}

// One of / . - or blanks between two pieces, a point or comma before a blank; 0: none.
char take_separator(std::string_view& text) {
  if (text.empty()) return 0;
  char found = text.front();
  if (found != '/' && found != '.' && found != '-' && found != ' ' && found != ',') return 0;
  text.remove_prefix(1);
  if (found == '.' || found == ',') pass_blanks(text);
  if (found == ' ') pass_blanks(text);
  return found;
}

std::optional<std::int64_t> days_of(int year, int month, int day) {
  if (month < 1 || month > 12 || day < 1 || day > 31) return {};
  const std::int64_t days = days_from_civil(year, month, day);
  const Civil back = civil_from_days(days);
  if (back.month != month || back.day != day) return {};
  return days;
}

std::optional<int> year_of(const Piece& piece) {
  if (piece.size == 4) return piece.value;
  if (piece.size == 2 && piece.value >= 0) return 2000 + piece.value;
  return {};
}

std::optional<WrittenDate> by_shape(int year, int month, int day) {
  const auto days = days_of(year, month, day);
  if (!days) return {};
  return WrittenDate{*days, OrderSaid::by_shape};
}

std::optional<WrittenDate> by_order(int year, int first, int second, DayOrder order) {
  const auto day_first = days_of(year, second, first);
  const auto month_first = days_of(year, first, second);
  if (!day_first && !month_first) return {};
  if (!month_first) return WrittenDate{*day_first, OrderSaid::day_first};
  if (!day_first) return WrittenDate{*month_first, OrderSaid::month_first};
  return WrittenDate{order == DayOrder::day_first ? *day_first : *month_first, OrderSaid::either};
}

std::optional<WrittenDate> take_date(std::string_view& text, DayOrder order) {
  const auto first = take_piece(text);
  if (!first) return {};
  const char separator = take_separator(text);
  const auto second = separator == 0 ? std::nullopt : take_piece(text);
  if (!second) return {};
  const char next = take_separator(text);
  const auto third = next == 0 ? std::nullopt : take_piece(text);
  if (!third || third->value < 0) return {};
  if (first->size == 4 && first->value >= 0) {
    if (third->size > 2) return {};
    const int month = second->value < 0 ? second->month : second->value;
    return by_shape(first->value, month, third->value);
  }
  const auto year = year_of(*third);
  if (!year || (first->value >= 0 && first->size > 2)) return {};
  if (first->value < 0)
    return second->value < 0 ? std::nullopt : by_shape(*year, first->month, second->value);
  if (second->value < 0) return by_shape(*year, second->month, first->value);
  if (second->size > 2 || separator != next || separator == ' ' || separator == ',') return {};
  // No country writes the month first and parts it with points.
  if (separator == '.') return by_shape(*year, second->value, first->value);
  return by_order(*year, first->value, second->value, order);
}

// "2:05:30 PM" as "14:05:30"; none where it is no time of day. What stands behind is kept.
std::optional<std::string> as_24_hours(std::string_view clock) {
  std::string text(clock);
  if (text.size() > 1 && is_digit(text[0]) && text[1] == ':') text.insert(0, 1, '0');
  std::size_t at = text.find_first_of("aApP");
  if (at == std::string::npos) return text;
  const bool afternoon = text[at] == 'p' || text[at] == 'P';
  std::size_t end = at + 1;
  if (end < text.size() && text[end] == '.') ++end;
  if (end >= text.size() || (text[end] != 'm' && text[end] != 'M')) return {};
  ++end;
  if (end < text.size() && text[end] == '.') ++end;
  while (at > 0 && text[at - 1] == ' ') --at;
  text.erase(at, end - at);
  if (text.size() < 2 || !is_digit(text[0]) || !is_digit(text[1])) return {};
  const int hour = 10 * (text[0] - '0') + (text[1] - '0');
  if (hour < 1 || hour > 12) return {};
  const int whole = hour % 12 + (afternoon ? 12 : 0);
  text[0] = static_cast<char>('0' + whole / 10);
  text[1] = static_cast<char>('0' + whole % 10);
  return text;
}

std::optional<WrittenTime> with_clock(const WrittenDate& date, std::string_view clock) {
  const auto whole = as_24_hours(clock);
  if (!whole) return {};
  const auto time = parse_iso_time("1970-01-01", *whole);
  if (!time) return {};
  return WrittenTime{date.days * kDaySeconds + time->seconds, time->has_offset, date.said};
}

std::optional<WrittenTime> since_1970(std::string_view text) {
  const bool seconds = text.size() == 9 || text.size() == 10;
  if (!seconds && text.size() != 12 && text.size() != 13) return {};
  if (!std::all_of(text.begin(), text.end(), is_digit)) return {};
  std::int64_t value = 0;
  for (const char c : text) value = value * 10 + (c - '0');
  return WrittenTime{seconds ? value : value / 1000, true, OrderSaid::by_shape};
}

}  // namespace

std::optional<WrittenDate> parse_written_date(std::string_view text, DayOrder order) {
  const auto date = take_date(text, order);
  return text.empty() ? date : std::nullopt;
}

std::optional<WrittenTime> parse_written_time(std::string_view text, DayOrder order) {
  if (const auto iso = parse_iso_time(text))
    return WrittenTime{iso->seconds, iso->has_offset, OrderSaid::by_shape};
  if (const auto number = since_1970(text)) return number;
  const auto date = take_date(text, order);
  if (!date || text.empty()) return {};
  const char between = text.front();
  if (between != ' ' && between != 'T' && between != 't' && between != ',') return {};
  text.remove_prefix(1);
  pass_blanks(text);
  return with_clock(*date, text);
}

std::optional<WrittenTime> parse_written_time(std::string_view date, std::string_view clock,
                                              DayOrder order) {
  const auto day = parse_written_date(date, order);
  if (!day) return {};
  return with_clock(*day, clock);
}

std::optional<std::int64_t> day_and_month_exchanged(std::int64_t seconds) {
  std::int64_t days = seconds / kDaySeconds;
  if (seconds < days * kDaySeconds) --days;
  const Civil civil = civil_from_days(days);
  const auto exchanged = days_of(civil.year, civil.day, civil.month);
  if (!exchanged) return {};
  return *exchanged * kDaySeconds + (seconds - days * kDaySeconds);
}

}  // namespace aeruca::detail
