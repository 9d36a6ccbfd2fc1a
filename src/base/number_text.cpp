#include "base/number_text.hpp"
#include "base/words.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace aeruca::detail {
namespace {

// Power of ten of the last digit that a range carries: the nearer end lies 1.5 to 15 of them away.
int last_digit(double value, double low, double high) {
  double nearer = std::min(std::abs(high - value), std::abs(value - low));
  if (!(nearer > 0)) nearer = high - low;  // the figure stands at one end, or is not known
  const int last = static_cast<int>(std::floor(std::log10(nearer / 1.5)));
  const auto whole = [](double figure) {
    return std::abs(figure - std::round(figure)) <= 1e-9 * std::abs(figure);
  };
  return whole(value) && whole(low) && whole(high) ? std::max(0, last) : last;
}

// 30.2 with last digit 0 is "30", 2.0 with -2 is "2.00"; very small values keep their exponent.
std::string to_digit(double value, int last) {
  if (value == 0) return "0";
  const int digits = static_cast<int>(std::floor(std::log10(std::abs(value)))) - last + 1;
  if (last < -4) return format_number(value, std::max(1, digits));
  const double unit = std::pow(10.0, last);
  return fixed_text(std::round(value / unit) * unit, std::max(0, -last));
}

}  // namespace

std::string fixed_text(double value, int decimals) {
  if (std::isnan(value)) return say("word.not_known");
  std::array<char, 400> text{};  // the largest double has 309 digits before the point
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value,
                                 std::chars_format::fixed, decimals);
  const std::string shown(text.data(), end.ptr);
  const bool zero = shown.find_first_not_of("-0.") == std::string::npos;
  return zero && shown.front() == '-' ? shown.substr(1) : shown;
}

std::string significant_text(double value, int digits) {
  if (std::isnan(value) || value == 0 || !std::isfinite(value)) return format_number(value);
  return to_digit(value, static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1 - digits);
}

std::string plus_minus(double value, double uncertainty) {
  if (std::isnan(value)) return say("word.not_known");
  if (!(uncertainty > 0)) return format_number(value, 3);
  const int decimals = std::clamp(1 - static_cast<int>(std::floor(std::log10(uncertainty))), 0, 6);
  return fixed_text(value, decimals) + " +/- " + fixed_text(uncertainty, decimals);
}

std::string range_text(double value, double low, double high, int digits) {
  if (std::isnan(value)) return say("word.not_known");
  if (std::isnan(low) || std::isnan(high)) return format_number(value, digits);
  const auto text = [&](double figure) {
    const bool whole = std::isnan(figure) || !(high > low) || !std::isfinite(high - low);
    return whole ? format_number(figure, digits) : to_digit(figure, last_digit(value, low, high));
  };
  return say("number.range", {{"value", text(value)}, {"low", text(low)}, {"high", text(high)}});
}

std::string probability_text(double probability) {
  constexpr double kNear = 0.01;
  if (std::isnan(probability)) return say("word.not_known");
  if (probability < kNear) return say("number.below", {{"limit", format_number(kNear)}});
  if (probability > 1 - kNear) return say("number.above", {{"limit", format_number(1 - kNear)}});
  return format_number(probability, 2);
}

std::string between_text(double low, double high) {
  if (std::isinf(high)) return say("wash.reading.above", {{"low", format_number(low, 3)}});
  return say("wash.reading.between",
             {{"low", format_number(low, 3)}, {"high", format_number(high, 3)}});
}

std::string significant_text_above(double least, double value, int digits) {
  return value < least ? "< " + format_number(least) : significant_text(value, digits);
}

}  // namespace aeruca::detail
