#include "store/logger_fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "aeruca/water.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

// Gas constant of water vapour, J/(kg K): 8.314462618 / 0.01801528 (CODATA 2018, IUPAC 2021).
constexpr double kVapourGasConstant = 461.5228;

// The number at the front of a cell and the unit behind it.
struct Measured {
  std::string_view number;
  std::string unit;  // lower case, without blanks and signs of degree
};

Measured cut_unit(std::string_view text) {
  std::size_t end = text.size();
  while (end > 0 && !(text[end - 1] >= '0' && text[end - 1] <= '9') && text[end - 1] != '.') --end;
  Measured measured{text.substr(0, end), {}};
  for (const char c : text.substr(end)) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x80 || c == ' ' || c == '.') continue;
    measured.unit += c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  }
  while (!measured.number.empty() && measured.number.back() == ' ')
    measured.number.remove_suffix(1);
  return measured;
}

bool is_saturation_range(double temperature_c) {
  return temperature_c >= 0 && temperature_c <= 100;
}

}  // namespace

std::string shown(std::string_view text) {
  std::string safe;
  for (const char c : text.substr(0, 40)) safe += static_cast<unsigned char>(c) < 32 ? '?' : c;
  if (text.size() > 40) safe += "...";
  return "'" + safe + "'";
}

bool is_missing(std::string_view text) {
  constexpr std::array<std::string_view, 12> kWords{"",    "-",   "--",  "---", "NA",   "N/A",
                                                    "n/a", "nan", "NaN", "NAN", "null", "NULL"};
  return std::find(kWords.begin(), kWords.end(), text) != kWords.end();
}

// Up to 15 digits and a decimal sign: mantissa and power of ten are exact doubles, so their
// quotient is the correctly rounded value. Anything else goes to the general parser.
std::optional<double> number_of(std::string_view text, bool comma_allowed) {
  constexpr std::array<double, 16> kPower{1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                          1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  const auto general = [&] {
    return parse_number(text, comma_allowed && text.find(',') != std::string_view::npos);
  };
  const bool negative = !text.empty() && text.front() == '-';
  std::int64_t mantissa = 0;
  std::size_t digits = 0;
  std::size_t decimals = 0;
  bool sign = false;
  for (std::size_t i = negative ? 1 : 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c >= '0' && c <= '9') {
      mantissa = mantissa * 10 + (c - '0');
      if (++digits > 15) return general();
      decimals += sign ? 1U : 0U;
    } else if (!sign && digits > 0 && (c == '.' || (c == ',' && comma_allowed))) {
      sign = true;
    } else {
      return general();
    }
  }
  if (digits == 0 || (sign && decimals == 0)) return general();
  const double value = static_cast<double>(mantissa) / kPower[decimals];
  return negative ? -value : value;
}

std::optional<double> humidity_of(std::string_view text, bool comma_allowed) {
  if (const auto plain = number_of(text, comma_allowed)) return plain;
  const Measured measured = cut_unit(text);
  constexpr std::array<std::string_view, 5> kUnits{"%", "%rh", "%rf", "%hr", "%ur"};
  if (std::find(kUnits.begin(), kUnits.end(), measured.unit) == kUnits.end()) return {};
  return number_of(measured.number, comma_allowed);
}

std::optional<double> celsius_of(std::string_view text, bool comma_allowed, bool fahrenheit) {
  std::optional<double> value = number_of(text, comma_allowed);
  if (!value) {
    const Measured measured = cut_unit(text);
    const bool in_f = measured.unit == "f" || measured.unit == "degf";
    if (!in_f && measured.unit != "c" && measured.unit != "degc") return {};
    fahrenheit = in_f;
    value = number_of(measured.number, comma_allowed);
  }
  if (!value) return {};
  return fahrenheit ? (*value - 32) / 1.8 : *value;
}

std::optional<double> rh_from(Moisture moisture, double value, double temperature_c) {
  if (!is_saturation_range(temperature_c)) return {};
  const double saturation_pa = saturation_pressure_pa(temperature_c);
  if (moisture == Moisture::dew_point) {
    if (!is_saturation_range(value)) return {};
    return 100 * saturation_pressure_pa(value) / saturation_pa;
  }
  if (moisture == Moisture::absolute)
    return 100 * value * 1e-3 * kVapourGasConstant * (temperature_c + 273.15) / saturation_pa;
  return value;
}

}  // namespace aeruca::detail
