#include "store/logger_header.hpp"

#include <algorithm>
#include <array>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

enum class Quantity { other, moment, date, clock, temperature, rh };

using Words = std::vector<std::string>;

// Lower-case words of a column name; everything but letters and digits separates them. Bytes of
// UTF-8 letters stay, the degree sign (C2 B0, or B0 alone) does not.
Words words_of(std::string_view name) {
  Words words(1);
  for (std::size_t i = 0; i < name.size(); ++i) {
    const auto byte = static_cast<unsigned char>(name[i]);
    const bool degree = byte == 0xB0 || (byte == 0xC2 && i + 1 < name.size() &&
                                         static_cast<unsigned char>(name[i + 1]) == 0xB0);
    const bool upper = byte >= 'A' && byte <= 'Z';
    const bool letter =
        upper || (byte >= 'a' && byte <= 'z') || (byte >= '0' && byte <= '9') || byte >= 0x80;
    if (letter && !degree) {
      words.back() += upper ? static_cast<char>(byte + 32) : static_cast<char>(byte);
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

template <std::size_t N>
bool any_is(const Words& words, const std::array<std::string_view, N>& known) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::find(known.begin(), known.end(), word) != known.end();
  });
}

template <std::size_t N>
bool any_begins(const Words& words, const std::array<std::string_view, N>& known) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::any_of(known.begin(), known.end(), [&](std::string_view root) {
      return word.compare(0, root.size(), root) == 0;
    });
  });
}

constexpr std::array<std::string_view, 6> kMoment{"datetime",  "timestamp",  "zeitstempel",
                                                  "datumzeit", "horodatage", "datetimestamp"};
constexpr std::array<std::string_view, 6> kDate{"date", "datum", "fecha", "data", "dato", "day"};
constexpr std::array<std::string_view, 10> kClock{"time", "zeit", "uhrzeit", "heure", "hora",
                                                  "ora",  "tijd", "tid",     "hour",  "czas"};
// Roots, so that one serves several languages: humidity, humidite, humidite relative ...
constexpr std::array<std::string_view, 12> kHumidity{"humidi", "feucht", "luftfeucht", "humedad",
                                                     "umidit", "umidad", "vocht",      "fukt",
                                                     "fugt",   "wilgot", "vlhk",       "kosteus"};
constexpr std::array<std::string_view, 6> kHumidityShort{"rh", "rf", "hr", "ur", "hum", "rv"};
constexpr std::array<std::string_view, 6> kTemperature{"temp",    "lufttemp",  "raumtemp",
                                                       "airtemp", "lampotila", "teplota"};
constexpr std::array<std::string_view, 2> kTemperatureShort{"t", "ta"};
// Dew point, absolute humidity and mixing ratio are other quantities.
constexpr std::array<std::string_view, 10> kOtherRoot{"dew",  "taupunkt", "ros",  "roc", "rugiada",
                                                      "dauw", "daggp",    "dugp", "abs", "mix"};
constexpr std::array<std::string_view, 3> kOtherWord{"g", "td", "vpd"};

Quantity quantity_of(const std::string& name) {
  const Words words = words_of(name);
  if (any_is(words, kMoment)) return Quantity::moment;
  const bool date = any_is(words, kDate);
  const bool clock = any_is(words, kClock);
  if (date && clock) return Quantity::moment;
  if (any_begins(words, kOtherRoot) || any_is(words, kOtherWord)) return Quantity::other;
  if (any_is(words, kHumidityShort) || any_begins(words, kHumidity)) return Quantity::rh;
  if (any_is(words, kTemperatureShort) || any_begins(words, kTemperature))
    return Quantity::temperature;
  if (date) return Quantity::date;
  return clock ? Quantity::clock : Quantity::other;
}

// Positions of the columns that claim a quantity; a name given by the user overrules recognition.
std::vector<std::size_t> claims(const std::vector<std::string>& names, Quantity quantity,
                                const std::string& given) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (given.empty() ? quantity_of(names[i]) == quantity : names[i] == given) found.push_back(i);
  }
  return found;
}

struct HeaderPlace {
  const std::string& file;
  long line;
};

// "rh_column", as in a case file and in Python, is "--rh-column" on the command line.
std::string as_typed(std::string option) {
  std::replace(option.begin(), option.end(), '_', '-');
  return "--" + option;
}

std::size_t only_one(const std::vector<std::size_t>& found, const std::vector<std::string>& names,
                     const HeaderPlace& place, const std::string& quantity,
                     const std::string& option) {
  if (found.empty()) return kNoColumn;
  if (found.size() > 1) {
    throw FileError(place.file, place.line, "header",
                    "'" + names[found[0]] + "' and '" + names[found[1]] + "' both look like " +
                        quantity + "; accepted is one column, or its name in " + option + " (" +
                        as_typed(option) + ")");
  }
  return found.front();
}

bool reads_fahrenheit(const std::string& name, const HeaderPlace& place) {
  const Words words = words_of(name);
  constexpr std::array<std::string_view, 3> kFahrenheit{"f", "degf", "fahrenheit"};
  constexpr std::array<std::string_view, 3> kKelvin{"k", "degk", "kelvin"};
  if (any_is(words, kKelvin)) {
    throw FileError(place.file, place.line, name, "temperature in kelvin; accepted is C or F");
  }
  return any_is(words, kFahrenheit);
}

void find_time(LoggerColumns& columns, const HeaderPlace& place, const std::string& given) {
  const auto& names = columns.names;
  columns.time =
      only_one(claims(names, Quantity::moment, given), names, place, "the time", "time_column");
  if (columns.time != kNoColumn || !given.empty()) return;
  columns.time =
      only_one(claims(names, Quantity::date, ""), names, place, "the date", "time_column");
  columns.clock =
      only_one(claims(names, Quantity::clock, ""), names, place, "the time", "time_column");
  if (columns.time == kNoColumn) std::swap(columns.time, columns.clock);
}

}  // namespace

std::optional<LoggerColumns> recognise_header(CsvReader& csv, const std::string& file,
                                              const LoggerReadOptions& options) {
  const HeaderPlace place{file, csv.number()};
  for (const char separator : {'\t', ';', ','}) {
    LoggerColumns columns;
    columns.separator = separator;
    columns.names = csv.fields(separator).value_or(std::vector<std::string>{});
    columns.count = columns.names.size();
    if (columns.count < 2) continue;
    if (claims(columns.names, Quantity::rh, options.rh_column).empty()) continue;
    find_time(columns, place, options.time_column);
    if (columns.time == kNoColumn) continue;
    columns.rh = only_one(claims(columns.names, Quantity::rh, options.rh_column), columns.names,
                          place, "the humidity", "rh_column");
    columns.temperature =
        only_one(claims(columns.names, Quantity::temperature, options.temperature_column),
                 columns.names, place, "the temperature", "temperature_column");
    if (columns.temperature == kNoColumn && !options.temperature_column.empty()) continue;
    if (columns.temperature != kNoColumn) {
      columns.fahrenheit = reads_fahrenheit(columns.names[columns.temperature], place);
    }
    return columns;
  }
  return {};
}

}  // namespace aeruca::detail
