#include "store/logger_bare.hpp"

#include <algorithm>

#include "aeruca/errors.hpp"
#include "base/csv.hpp"
#include "base/written_time.hpp"
#include "store/logger_fields.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kLines = 20;  // that are looked at

using Rows = std::vector<std::vector<std::string>>;

// The first lines cut into fields; empty unless all have two or more, and as many.
Rows cut(const std::vector<std::string>& lines, char separator) {
  Rows rows;
  for (std::size_t i = 0; i < std::min(lines.size(), kLines); ++i) {
    CsvReader csv(lines[i]);
    csv.next_line();
    auto fields = csv.fields(separator);
    if (!fields || fields->size() < 2) return {};
    if (!rows.empty() && fields->size() != rows.front().size()) return {};
    rows.push_back(std::move(*fields));
  }
  return rows;
}

template <class Is>
bool all(const Rows& rows, std::size_t column, Is is) {
  return std::all_of(rows.begin(), rows.end(),
                     [&](const auto& row) { return is(std::string_view(row[column])); });
}

bool is_moment(std::string_view text) {
  return parse_written_time(text, DayOrder::day_first) ||
         parse_written_time(text, DayOrder::month_first);
}
bool is_date(std::string_view text) {
  return parse_written_date(text, DayOrder::day_first) ||
         parse_written_date(text, DayOrder::month_first);
}
bool is_clock(std::string_view text) {
  return parse_written_time("1970-01-01", text, DayOrder::day_first).has_value();
}

class Bare {
 public:
  Bare(Rows rows, char separator, const std::string& file, const LoggerReadOptions& options)
      : rows_(std::move(rows)), file_(file), options_(options) {
    columns_.separator = separator;
    columns_.count = rows_.front().size();
    for (std::size_t i = 1; i <= columns_.count; ++i) columns_.names.push_back(std::to_string(i));
  }

  std::optional<BareColumns> find() {
    if (!find_time()) return {};
    find_by_unit();
    find_given();
    if (columns_.rh == kNoColumn) ask();
    columns_.rh_scale = options_.rh_unit == RhUnit::fraction ? 100 : 1;
    std::string proof = "there is no header: column " + columns_.names[columns_.time] +
                        " is the time, column " + columns_.names[columns_.rh] + " the " +
                        (columns_.moisture == Moisture::relative    ? "humidity"
                         : columns_.moisture == Moisture::dew_point ? "dew point"
                                                                    : "absolute humidity");
    if (columns_.temperature != kNoColumn)
      proof += ", column " + columns_.names[columns_.temperature] + " the temperature";
    return BareColumns{columns_,
                       proof + (asked_ ? ", as was said" : ", by the units in the cells")};
  }

 private:
  [[nodiscard]] std::size_t named(const std::string& number) const {
    const auto found = std::find(columns_.names.begin(), columns_.names.end(), number);
    return found == columns_.names.end() ? kNoColumn
                                         : static_cast<std::size_t>(found - columns_.names.begin());
  }

  template <class Is>
  [[nodiscard]] std::size_t first(Is is) const {
    for (std::size_t i = 0; i < columns_.count; ++i) {
      if (all(rows_, i, is)) return i;
    }
    return kNoColumn;
  }

  bool find_time() {
    columns_.time = options_.time_column.empty() ? first(is_moment) : named(options_.time_column);
    if (columns_.time == kNoColumn && options_.time_column.empty()) {
      columns_.time = first(is_date);
      columns_.clock = first(is_clock);
    }
    if (!options_.clock_column.empty()) columns_.clock = named(options_.clock_column);
    if (columns_.clock == columns_.time) columns_.clock = kNoColumn;
    return columns_.time != kNoColumn &&
           all(rows_, columns_.time, [](auto text) { return is_moment(text) || is_date(text); });
  }

  // A number is not enough: a unit must stand behind it.
  void find_by_unit() {
    columns_.rh = first([&](std::string_view text) {
      return !number_of(text, true) && humidity_of(text, true).has_value();
    });
    columns_.temperature = first([&](std::string_view text) {
      return !number_of(text, true) && celsius_of(text, true, false).has_value();
    });
    columns_.temperature_unit_said = columns_.temperature != kNoColumn;
  }

  void find_given() {
    const auto take = [&](const std::string& given, std::size_t& column) {
      if (given.empty()) return false;
      column = named(given);
      asked_ = true;
      if (column == kNoColumn) refuse(given);
      return true;
    };
    if (take(options_.temperature_column, columns_.temperature)) {
      columns_.fahrenheit = options_.temperature_unit == TemperatureUnit::fahrenheit;
      columns_.temperature_unit_said = options_.temperature_unit != TemperatureUnit::from_file;
    }
    take(options_.rh_column, columns_.rh);
    if (take(options_.dew_point_column, columns_.rh)) {
      columns_.moisture = Moisture::dew_point;
      columns_.moisture_fahrenheit = columns_.fahrenheit;
    }
    if (take(options_.absolute_humidity_column, columns_.rh))
      columns_.moisture = Moisture::absolute;
  }

  [[noreturn]] void refuse(const std::string& given) const {
    throw FileError(file_, 1, "header",
                    "there is no header, and no column of the number " + shown(given) +
                        "; accepted is 1 to " + columns_.names.back());
  }

  [[noreturn]] void ask() const {
    throw FileError(file_, 1, "header",
                    "there is no header, and nothing tells which column is the humidity; accepted "
                    "is the number of one, 1 to " +
                        columns_.names.back() + ", in " + option_named("rh_column") +
                        ", and of the temperature in " + option_named("temperature_column"));
  }

  Rows rows_;
  const std::string& file_;
  const LoggerReadOptions& options_;
  LoggerColumns columns_;
  bool asked_ = false;
};

}  // namespace

std::optional<BareColumns> columns_without_header(const std::vector<std::string>& lines,
                                                  const std::string& file,
                                                  const LoggerReadOptions& options) {
  for (const char separator : {'\t', ';', ','}) {
    Rows rows = cut(lines, separator);
    if (rows.empty()) continue;
    if (auto found = Bare(std::move(rows), separator, file, options).find()) return found;
  }
  return {};
}

}  // namespace aeruca::detail
