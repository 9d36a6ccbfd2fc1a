#include "bath/log_table.hpp"

#include <algorithm>
#include <array>
#include <iterator>

#include "aeruca/errors.hpp"
#include "base/calendar.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

const std::array<std::string, 4> kRequired{"start", "end", "volume_l", "chloride_mg_per_l"};
const std::array<std::string, 10> kOptional{"error_mg_per_l",
                                            "detection_limit_mg_per_l",
                                            "blank_mg_per_l",
                                            "dilution",
                                            "method",
                                            "note",
                                            "temperature_c",
                                            "read_on",
                                            "ph",
                                            "colour"};
// Kept by careful workers: accepted, and said to be unused.
const std::array<std::string, 2> kUnused{"salt", "lot"};

std::vector<std::string> accepted_columns() {
  std::vector<std::string> names(kRequired.begin(), kRequired.end());
  names.insert(names.end(), kOptional.begin(), kOptional.end());
  names.insert(names.end(), kUnused.begin(), kUnused.end());
  return names;
}

}  // namespace

LogColumns::LogColumns(const std::vector<std::string>& names, const std::string& file, long line) {
  const auto accepted = accepted_columns();
  for (const std::string& name : names) {
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
  constexpr double kSecondsPerDay = 86400;
  if (const auto day = parse_date(text)) return static_cast<double>(*day);
  const auto moment = parse_iso_time(text);
  if (!moment || moment->has_offset) return std::nullopt;
  return static_cast<double>(moment->seconds) / kSecondsPerDay;
}

}  // namespace aeruca::detail
