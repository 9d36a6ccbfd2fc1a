// A decay test as it is written down: hours and values.

#include "aeruca/enclosure.hpp"
#include "base/csv.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

char separator_of(std::string_view line) {
  for (const char one : {';', '\t'}) {
    if (line.find(one) != std::string_view::npos) return one;
  }
  return ',';
}

// Both numbers of a row, or none: then it is no reading.
bool take_row(DecayReadings& readings, const std::vector<std::string>& fields, bool comma) {
  if (fields.size() < 2) return false;
  const auto hours = detail::parse_number(fields[0], comma);
  const auto value = detail::parse_number(fields[1], comma);
  if (!hours || !value) return false;
  readings.hours.push_back(*hours);
  readings.values.push_back(*value);
  return true;
}

}  // namespace

DecayReadings read_decay(const std::string& path) {
  const std::string text = detail::read_file(path);
  detail::CsvReader reader(text);
  DecayReadings readings;
  for (bool first = true; reader.next_row(); first = false) {
    const char separator = separator_of(reader.line());
    const auto fields = reader.fields(separator);
    const bool comma = separator != ',' && reader.line().find('.') == std::string_view::npos;
    if (fields && take_row(readings, *fields, comma)) continue;
    if (!first)
      throw FileError(path, reader.number(), "hours, value", detail::say("enclosure.decay_field"));
  }
  return readings;
}

}  // namespace aeruca
