#include "bath/log_table.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <iterator>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

const std::array<std::string, 4> kRequired{"start", "end", "volume_l", "chloride_mg_per_l"};
const std::array<std::string, 7> kOptional{
    "error_mg_per_l", "detection_limit_mg_per_l", "blank_mg_per_l", "dilution", "method", "note",
    "temperature_c"};
// Kept by careful workers: accepted, and said to be unused.
const std::array<std::string, 4> kUnused{"ph", "salt", "colour", "lot"};

std::vector<std::string> accepted_columns() {
  std::vector<std::string> names(kRequired.begin(), kRequired.end());
  names.insert(names.end(), kOptional.begin(), kOptional.end());
  names.insert(names.end(), kUnused.begin(), kUnused.end());
  return names;
}

std::optional<int> digits(std::string_view text, std::size_t from, std::size_t count) {
  if (from + count > text.size()) return std::nullopt;
  int value = 0;
  for (const char c : text.substr(from, count)) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

// hh:mm or hh:mm:ss as a fraction of a day.
std::optional<double> parse_clock(std::string_view text) {
  if (text.size() != 5 && text.size() != 8) return std::nullopt;
  const auto hour = digits(text, 0, 2);
  const auto minute = digits(text, 3, 2);
  const auto second = text.size() == 8 ? digits(text, 6, 2) : 0;
  if (!hour || !minute || !second || text[2] != ':' || (text.size() == 8 && text[5] != ':'))
    return std::nullopt;
  if (*hour > 23 || *minute > 59 || *second > 59) return std::nullopt;
  return (*hour * 3600 + *minute * 60 + *second) / 86400.0;
}

}  // namespace

std::optional<std::vector<std::string>> split_row(std::string_view line, char separator) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      fields.back() += line[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  if (quoted) return std::nullopt;
  for (std::string& field : fields) field = std::string(trim(field));
  return fields;
}

LogColumns::LogColumns(std::string_view header, char separator, const std::string& file,
                       long line) {
  const auto names = split_row(header, separator);
  if (!names) throw FileError(file, line, "header", "a double quote is not closed");
  const auto accepted = accepted_columns();
  for (const std::string& name : *names) {
    if (std::find(accepted.begin(), accepted.end(), name) == accepted.end()) {
      const std::string nearest = nearest_name(name, accepted);
      throw FileError(file, line, "header",
                      "no column is called '" + name + "'; " +
                          (nearest.empty() ? "accepted are " + join(accepted, ", ")
                                           : "nearest is '" + nearest + "'"));
    }
    if (!position_.emplace(name, count_++).second) {
      throw FileError(file, line, "header", "column '" + name + "' stands twice");
    }
  }
  for (const std::string& name : kRequired) {
    if (!has(name)) {
      throw FileError(file, line, "header",
                      "column '" + name + "' is missing; needed are " + join(kRequired, ", "));
    }
  }
}

std::string_view LogColumns::text(const std::vector<std::string>& row,
                                  std::string_view name) const {
  const auto found = position_.find(name);
  return found == position_.end() ? std::string_view{} : std::string_view(row[found->second]);
}

std::vector<std::string> LogColumns::unused() const {
  std::vector<std::string> names;
  std::copy_if(kUnused.begin(), kUnused.end(), std::back_inserter(names),
               [this](const std::string& name) { return has(name); });
  return names;
}

std::optional<double> parse_day(std::string_view text) {
  using namespace std::chrono;
  const auto year_number = digits(text, 0, 4);
  const auto month_number = digits(text, 5, 2);
  const auto day_number = digits(text, 8, 2);
  if (!year_number || !month_number || !day_number || text[4] != '-' || text[7] != '-')
    return std::nullopt;
  const year_month_day date{year{*year_number}, month{static_cast<unsigned>(*month_number)},
                            day{static_cast<unsigned>(*day_number)}};
  if (!date.ok()) return std::nullopt;
  const double whole = static_cast<double>(sys_days(date).time_since_epoch().count());
  if (text.size() == 10) return whole;
  if (text[10] != 'T' && text[10] != ' ') return std::nullopt;
  const auto clock = parse_clock(text.substr(11));
  if (!clock) return std::nullopt;
  return whole + *clock;
}

}  // namespace aeruca::detail
