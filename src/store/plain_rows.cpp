#include "store/plain_rows.hpp"

#include <algorithm>
#include <cstring>
#include <string>

#include "aeruca/not_given.hpp"
#include "base/calendar.hpp"
#include "store/logger_fields.hpp"
#include "store/logger_series.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;

unsigned digit(char c) {
  return static_cast<unsigned>(static_cast<unsigned char>(c)) - '0';  // above 9: none
}

const char* take_digits(const char* at, std::uint64_t& value) {
  for (unsigned d = digit(*at); d <= 9; d = digit(*++at)) value = value * 10 + d;
  return at;
}

}  // namespace

PlainRows::PlainRows(const LoggerColumns& columns, double highest_rh)
    : count_(columns.count),
      separator_(columns.separator),
      comma_(columns.separator != ','),
      fahrenheit_(columns.fahrenheit),
      moisture_(columns.moisture),
      moisture_fahrenheit_(columns.moisture_fahrenheit),
      highest_rh_(highest_rh),
      rh_scale_(columns.rh_scale) {
  const bool apart = columns.clock != kNoColumn;
  const auto want = [this](std::size_t column, Quantity quantity) {
    if (column == kNoColumn) return;
    wanted_.resize(std::max(wanted_.size(), column + 1), Quantity::none);
    wanted_[column] = quantity;
  };
  want(columns.time, apart ? Quantity::date : Quantity::moment);
  want(columns.clock, Quantity::clock);
  want(columns.temperature, Quantity::temperature);
  want(columns.rh, Quantity::rh);
}

void PlainRows::set_clock(const ClockState& clock) {
  if (clock.order != clock_.order || clock.order_known != clock_.order_known) date_size_ = 0;
  clock_ = clock;
}

const char* PlainRows::read_row(const char* at, Row& row) {
  // A remark may stand behind tabs, even where tabs part the fields.
  const char* text = at;
  while (*text == ' ' || *text == '\t') ++text;
  if (*text == '#' || *text == '\n' || *text == '\r') return nullptr;
  row.temperature_c = kNotGiven;
  std::size_t column = 0;
  for (;;) {
    at = read_field(at, wanted_[column], row);
    if (at == nullptr) return nullptr;
    if (++column == wanted_.size()) break;
    if (*at++ != separator_) return nullptr;
  }
  at = pass_rest(at, column);
  row.time_s = date_s_ + clock_s_;
  if (moisture_ != Moisture::relative) {
    const auto rh = rh_from(moisture_, row.rh_percent, row.temperature_c);
    if (!rh) return nullptr;
    row.rh_percent = *rh;
  }
  const bool possible = row.rh_percent >= 0 && row.rh_percent <= highest_rh_ &&
                        !(row.temperature_c < kColdestC || row.temperature_c > kHottestC);
  return possible ? at : nullptr;
}

const char* PlainRows::read_field(const char* at, Quantity quantity, Row& row) {
  if (quantity == Quantity::none) return pass_field(at);
  at = pass_blanks(at);
  const bool quoted = *at == '"';
  if (quoted) ++at;
  switch (quantity) {
    case Quantity::moment:
      at = clock_.since_1970 ? read_since_1970(at) : read_moment(at);
      break;
    case Quantity::date:
      at = read_date(at);
      break;
    case Quantity::clock:
      at = read_clock(at);
      break;
    case Quantity::temperature:
      if (!quoted && ends_field(*at)) return at;
      at = read_number(at, quoted || comma_, row.temperature_c);
      if (fahrenheit_) row.temperature_c = (row.temperature_c - 32) / 1.8;
      break;
    case Quantity::rh:
      at = read_number(at, quoted || comma_, row.rh_percent);
      if (moisture_ == Moisture::relative)
        row.rh_percent *= rh_scale_;
      else if (moisture_fahrenheit_)
        row.rh_percent = (row.rh_percent - 32) / 1.8;
      break;
    case Quantity::none:
      break;
  }
  if (at == nullptr) return nullptr;
  if (quoted && *at++ != '"') return nullptr;
  at = pass_blanks(at);
  return ends_field(*at) ? at : nullptr;
}

const char* PlainRows::read_moment(const char* at) {
  at = read_date(at);
  if (at == nullptr || (*at != 'T' && *at != ' ' && *at != 't')) return nullptr;
  return read_clock(at + 1);
}

// Nine or ten digits; the careful reader takes milliseconds.
const char* PlainRows::read_since_1970(const char* at) {
  std::uint64_t value = 0;
  const char* const first = at;
  while (at - first < 11 && digit(*at) <= 9) value = value * 10 + digit(*at++);
  const auto seconds = static_cast<std::int64_t>(value);
  if ((at - first != 9 && at - first != 10) || !ends_text(*at) || !is_plausible_time(seconds))
    return nullptr;
  date_s_ = seconds;
  clock_s_ = 0;
  date_size_ = 0;
  return at;
}

// Dates have 8 to 12 characters as a rule: two looks at eight of them see all.
bool PlainRows::is_same_date(const char* at) const {
  if (date_size_ < 8) return date_size_ > 0 && std::memcmp(at, date_.data(), date_size_) == 0;
  const std::size_t rest = date_size_ - 8;
  return std::memcmp(at, date_.data(), 8) == 0 &&
         std::memcmp(at + rest, date_.data() + rest, 8) == 0;
}

const char* PlainRows::read_date(const char* at) {
  return is_same_date(at) ? at + date_size_ : read_new_date(at);
}

const char* PlainRows::read_new_date(const char* at) {
  const char* end = at;
  const auto ends = [&] {
    return ends_text(*end) || ((*end == 'T' || *end == 't') && end > at && digit(end[-1]) <= 9);
  };
  while (!ends()) {
    if (++end - at >= static_cast<std::ptrdiff_t>(date_.size())) return nullptr;
  }
  const auto size = static_cast<std::size_t>(end - at);
  const auto date = parse_written_date({at, size}, clock_.order);
  if (!date) return nullptr;
  // A date that settles the order, or does not fit it, is for the careful reader.
  const OrderSaid wanted =
      clock_.order == DayOrder::day_first ? OrderSaid::day_first : OrderSaid::month_first;
  const bool fits = clock_.numeric ? date->said == OrderSaid::either ||
                                         (clock_.order_known && date->said == wanted)
                                   : date->said == OrderSaid::by_shape;
  // A day from either end of the years accepted no offset leads out of them.
  if (!fits || !is_plausible_time((date->days - 1) * kDaySeconds) ||
      !is_plausible_time((date->days + 2) * kDaySeconds))
    return nullptr;
  std::memcpy(date_.data(), at, size);
  date_size_ = size;
  date_s_ = date->days * kDaySeconds;
  return end;
}

const char* PlainRows::read_clock(const char* at) {
  unsigned hour = digit(*at++);
  if (hour > 9) return nullptr;
  if (digit(*at) <= 9) hour = 10 * hour + digit(*at++);
  if (hour > 23 || *at != ':' || digit(at[1]) > 5 || digit(at[2]) > 9) return nullptr;
  clock_s_ = 3600 * hour + 600 * digit(at[1]) + 60 * digit(at[2]);
  at += 3;
  if (*at == ':') {
    if (digit(at[1]) > 5 || digit(at[2]) > 9) return nullptr;
    clock_s_ += 10 * digit(at[1]) + digit(at[2]);
    at += 3;
    if (!ends_text(*at)) return read_offset(at);
  }
  if (*at == ' ' && (at[1] | 32) >= 'a') return read_half_of_day(at + 1, hour);
  return clock_.utc || !ends_text(*at) ? nullptr : at;
}

// AM or PM.
const char* PlainRows::read_half_of_day(const char* at, unsigned hour) {
  const int half = at[0] | 32;
  if ((half != 'a' && half != 'p') || (at[1] | 32) != 'm' || hour < 1 || hour > 12 || clock_.utc)
    return nullptr;
  clock_s_ += 3600 * (static_cast<std::int64_t>(hour % 12 + (half == 'p' ? 12 : 0)) -
                      static_cast<std::int64_t>(hour));
  return at + 2;
}

// A fraction of a second and an offset, whatever stands behind the seconds.
const char* PlainRows::read_offset(const char* at) {
  const char* end = at;
  while (!ends_field(*end) && *end != '"' && *end != ' ') ++end;
  const auto size = static_cast<std::size_t>(end - at);
  if (size != offset_size_ || std::memcmp(at, offset_.data(), size) != 0) {
    if (size > offset_.size()) return nullptr;
    const auto time = parse_iso_time("1970-01-01", "00:00:00" + std::string(at, size));
    if (!time) return nullptr;
    std::memcpy(offset_.data(), at, size);
    offset_size_ = size;
    offset_s_ = -time->seconds;
    offset_given_ = time->has_offset;
  }
  if (offset_given_ != clock_.utc) return nullptr;
  clock_s_ -= offset_s_;
  return end;
}

// Up to 15 digits and a decimal sign: mantissa and power of ten are exact doubles, so their
// quotient is the correctly rounded value.
const char* PlainRows::read_number(const char* at, bool comma, double& value) {
  constexpr std::array<double, 16> kPower{1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                          1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  const bool negative = *at == '-';
  if (negative) ++at;
  std::uint64_t mantissa = 0;
  const char* const first = at;
  at = take_digits(at, mantissa);
  auto digits = static_cast<std::size_t>(at - first);
  std::size_t decimals = 0;
  if (digits > 0 && (*at == '.' || (comma && *at == ','))) {
    const char* const point = at++;
    at = take_digits(at, mantissa);
    decimals = static_cast<std::size_t>(at - point) - 1;
    digits += decimals;
    if (decimals == 0) return nullptr;
  }
  if (digits == 0 || digits > 15) return nullptr;
  value = static_cast<double>(static_cast<std::int64_t>(mantissa)) / kPower[decimals];
  if (negative) value = -value;
  return at;
}

const char* PlainRows::pass_field(const char* at) const {
  for (;;) {
    while (*at != separator_ && *at != '\n' && *at != '"') ++at;
    if (*at != '"') return at;
    do ++at;
    while (*at != '"' && *at != '\n');
    if (*at == '\n') return nullptr;
    ++at;
  }
}

const char* PlainRows::pass_rest(const char* at, std::size_t column) const {
  for (; *at == separator_; ++column) {
    ++at;
    if (column < count_) {
      at = pass_field(at);
      if (at == nullptr) return nullptr;
    } else {
      at = pass_blanks(at);
    }
  }
  if (*at == '\r') ++at;
  return *at == '\n' ? at + 1 : nullptr;
}

const char* PlainRows::pass_blanks(const char* at) const {
  while (*at == ' ' || (*at == '\t' && separator_ != '\t')) ++at;
  return at;
}

}  // namespace aeruca::detail
