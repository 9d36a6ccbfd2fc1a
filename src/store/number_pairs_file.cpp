// Two numbers a line, as a decay test or the moisture of a material is written down.

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

struct Columns {
  std::vector<double> first, second;
};

// Both numbers of a row, or none: then it is no reading.
bool take_row(Columns& columns, const std::vector<std::string>& fields, bool comma) {
  if (fields.size() < 2) return false;
  const auto first = detail::parse_number(fields[0], comma);
  const auto second = detail::parse_number(fields[1], comma);
  if (!first || !second) return false;
  columns.first.push_back(*first);
  columns.second.push_back(*second);
  return true;
}

Columns read_columns(const std::string& path, const std::string& names) {
  const std::string text = detail::read_file(path);
  detail::CsvReader reader(text);
  Columns columns;
  for (bool first = true; reader.next_row(); first = false) {
    const char separator = separator_of(reader.line());
    const auto fields = reader.fields(separator);
    const bool comma = separator != ',' && reader.line().find('.') == std::string_view::npos;
    if (fields && take_row(columns, *fields, comma)) continue;
    if (!first)
      throw FileError(path, reader.number(), names,
                      detail::say("enclosure.pair_field", {{"names", names}}));
  }
  return columns;
}

}  // namespace

DecayReadings read_decay(const std::string& path) {
  Columns columns = read_columns(path, "hours, value");
  return {std::move(columns.first), std::move(columns.second)};
}

MoisturePoints read_moisture(const std::string& path) {
  Columns columns = read_columns(path, "% RH, moisture");
  return {std::move(columns.first), std::move(columns.second)};
}

}  // namespace aeruca
