#include "aeruca/analysis.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

// "<" or "less than", then the limit.
std::optional<std::string_view> below_what(std::string_view text) {
  if (!text.empty() && text.front() == '<') return detail::trim(text.substr(1));
  return std::nullopt;
}

// Where the uncertainty begins and how long its sign is: "+/-", "+-" or the plus-minus character.
std::pair<std::size_t, std::size_t> find_uncertainty(std::string_view text) {
  for (const std::string_view sign : {"+/-", "+-", "\xC2\xB1"}) {
    const std::size_t at = text.find(sign);
    if (at != std::string_view::npos) return {at, sign.size()};
  }
  return {std::string_view::npos, 0};
}

}  // namespace

std::optional<Reading> parse_reading(std::string_view text) {
  text = detail::trim(text);
  Reading reading;
  if (const auto limit = below_what(text)) {
    const auto number = detail::parse_number(*limit);
    if (!number || *number <= 0) return std::nullopt;
    reading.below = *number;
    return reading;
  }
  const auto [at, length] = find_uncertainty(text);
  const auto value = detail::parse_number(text.substr(0, at));
  if (!value || *value < 0) return std::nullopt;
  reading.value = *value;
  if (at == std::string_view::npos) return reading;
  const auto uncertainty = detail::parse_number(text.substr(at + length));
  if (!uncertainty || *uncertainty < 0) return std::nullopt;
  reading.uncertainty = *uncertainty;
  return reading;
}

Reading WaterAnalysis::reading_of(std::string_view name) const {
  for (const AnalysedIon& ion : ions) {
    if (ion.name == name) return ion.amount.reading;
  }
  return {};
}

std::string to_string(const Reading& reading) {
  if (!std::isnan(reading.below)) return "< " + detail::format_number(reading.below);
  if (!reading.detected()) return "not given";
  std::string text = detail::format_number(reading.value);
  if (!std::isnan(reading.uncertainty))
    text += " +/- " + detail::format_number(reading.uncertainty);
  return text;
}

}  // namespace aeruca
