#include "store/logger_header.hpp"

#include <algorithm>
#include <array>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

enum class Quantity { other, moment, date, clock, temperature, rh, dew_point, absolute };

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

constexpr std::array<std::string_view, 9> kMoment{"datetime",  "timestamp",  "zeitstempel",
                                                  "datumzeit", "horodatage", "datetimestamp",
                                                  "epoch",     "unixtime",   "unix"};
constexpr std::array<std::string_view, 6> kDate{"date", "datum", "fecha", "data", "dato", "day"};
constexpr std::array<std::string_view, 11> kClock{
    "time", "clock", "zeit", "uhrzeit", "heure", "hora", "ora", "tijd", "tid", "hour", "czas"};
// Roots, so that one serves several languages: humidity, humidite, humidite relative ...
constexpr std::array<std::string_view, 12> kHumidity{"humidi", "feucht", "luftfeucht", "humedad",
                                                     "umidit", "umidad", "vocht",      "fukt",
                                                     "fugt",   "wilgot", "vlhk",       "kosteus"};
constexpr std::array<std::string_view, 6> kHumidityShort{"rh", "rf", "hr", "ur", "hum", "rv"};
constexpr std::array<std::string_view, 6> kTemperature{"temp",    "lufttemp",  "raumtemp",
                                                       "airtemp", "lampotila", "teplota"};
constexpr std::array<std::string_view, 2> kTemperatureShort{"t", "ta"};
constexpr std::array<std::string_view, 8> kDewPoint{"dew",     "taupunkt", "ros",   "roc",
                                                    "rugiada", "dauw",     "daggp", "dugp"};
constexpr std::array<std::string_view, 1> kDewPointShort{"td"};
constexpr std::array<std::string_view, 1> kAbsolute{"abs"};
// Mixing ratio and vapour pressure deficit are other quantities.
constexpr std::array<std::string_view, 1> kOtherRoot{"mix"};
constexpr std::array<std::string_view, 2> kOtherWord{"g", "vpd"};

Quantity quantity_of(const std::string& name) {
  const Words words = words_of(name);
  if (any_is(words, kMoment)) return Quantity::moment;
  const bool date = any_is(words, kDate);
  const bool clock = any_is(words, kClock);
  if (date && clock) return Quantity::moment;
  if (any_begins(words, kDewPoint) || any_is(words, kDewPointShort)) return Quantity::dew_point;
  if (any_begins(words, kAbsolute)) return Quantity::absolute;
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

std::size_t only_one(const std::vector<std::size_t>& found, const std::vector<std::string>& names,
                     const HeaderPlace& place, const std::string& quantity,
                     const std::string& option) {
  if (found.empty()) return kNoColumn;
  if (found.size() > 1) {
    throw FileError(place.file, place.line, "header",
                    "'" + names[found[0]] + "' and '" + names[found[1]] + "' both look like " +
                        quantity + "; accepted is one column, or its name in " +
                        option_named(option));
  }
  return found.front();
}

constexpr std::array<std::string_view, 3> kFahrenheit{"f", "degf", "fahrenheit"};
constexpr std::array<std::string_view, 3> kCelsius{"c", "degc", "celsius"};

bool reads_fahrenheit(const std::string& name, const HeaderPlace& place) {
  const Words words = words_of(name);
  constexpr std::array<std::string_view, 3> kKelvin{"k", "degk", "kelvin"};
  if (any_is(words, kKelvin)) {
    throw FileError(place.file, place.line, name, "temperature in kelvin; accepted is C or F");
  }
  return any_is(words, kFahrenheit);
}

void find_time(LoggerColumns& columns, const HeaderPlace& place, const LoggerReadOptions& options) {
  const auto& names = columns.names;
  if (!options.clock_column.empty()) {
    columns.clock = only_one(claims(names, Quantity::clock, options.clock_column), names, place,
                             "the time of day", "clock_column");
    columns.time = only_one(claims(names, Quantity::date, options.time_column), names, place,
                            "the date", "time_column");
    if (columns.clock == kNoColumn || columns.clock == columns.time) columns.time = kNoColumn;
    return;
  }
  columns.time = only_one(claims(names, Quantity::moment, options.time_column), names, place,
                          "the time", "time_column");
  if (columns.time != kNoColumn || !options.time_column.empty()) return;
  columns.time =
      only_one(claims(names, Quantity::date, ""), names, place, "the date", "time_column");
  columns.clock =
      only_one(claims(names, Quantity::clock, ""), names, place, "the time", "time_column");
  if (columns.time == kNoColumn) std::swap(columns.time, columns.clock);
}

void find_temperature(LoggerColumns& columns, const HeaderPlace& place,
                      const LoggerReadOptions& options) {
  columns.temperature =
      only_one(claims(columns.names, Quantity::temperature, options.temperature_column),
               columns.names, place, "the temperature", "temperature_column");
  const bool given = options.temperature_unit != TemperatureUnit::from_file;
  columns.temperature_unit_said = given;
  if (columns.temperature == kNoColumn) return;
  const std::string& name = columns.names[columns.temperature];
  columns.fahrenheit = given ? options.temperature_unit == TemperatureUnit::fahrenheit
                             : reads_fahrenheit(name, place);
  columns.temperature_unit_said = given || columns.fahrenheit || any_is(words_of(name), kCelsius);
}

// The humidity itself, or what it can be computed from with the temperature; false when neither.
bool find_moisture(LoggerColumns& columns, const HeaderPlace& place,
                   const LoggerReadOptions& options) {
  struct Way {
    Moisture moisture;
    Quantity quantity;
    const char* named;
    const char* option;
    const std::string& given;
  };
  const std::array<Way, 3> ways{
      {{Moisture::relative, Quantity::rh, "the humidity", "rh_column", options.rh_column},
       {Moisture::dew_point, Quantity::dew_point, "the dew point", "dew_point_column",
        options.dew_point_column},
       {Moisture::absolute, Quantity::absolute, "the absolute humidity", "absolute_humidity_column",
        options.absolute_humidity_column}}};
  const bool any_given =
      std::any_of(ways.begin(), ways.end(), [](const Way& way) { return !way.given.empty(); });
  for (const Way& way : ways) {
    if (any_given && way.given.empty()) continue;
    const auto found = claims(columns.names, way.quantity, way.given);
    if (found.empty()) continue;
    if (way.moisture != Moisture::relative && columns.temperature == kNoColumn) continue;
    columns.rh = only_one(found, columns.names, place, way.named, way.option);
    columns.moisture = way.moisture;
    columns.moisture_fahrenheit =
        way.moisture == Moisture::dew_point &&
        (reads_fahrenheit(columns.names[columns.rh], place) ||
         (columns.fahrenheit && !any_is(words_of(columns.names[columns.rh]), kCelsius)));
    return true;
  }
  return false;
}

std::string asked_for(const LoggerReadOptions& options) {
  std::string text;
  for (const std::string* name :
       {&options.time_column, &options.clock_column, &options.temperature_column,
        &options.rh_column, &options.dew_point_column, &options.absolute_humidity_column}) {
    if (!name->empty()) text += (text.empty() ? " (asked for: '" : ", '") + *name + "'";
  }
  return text.empty() ? text : text + ")";
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
    const auto named = [&](Quantity quantity, const std::string& given) {
      return !claims(columns.names, quantity, given).empty();
    };
    if (!named(Quantity::rh, options.rh_column) &&
        !named(Quantity::dew_point, options.dew_point_column) &&
        !named(Quantity::absolute, options.absolute_humidity_column))
      continue;
    find_time(columns, place, options);
    if (columns.time == kNoColumn) continue;
    find_temperature(columns, place, options);
    if (columns.temperature == kNoColumn && !options.temperature_column.empty()) continue;
    if (!find_moisture(columns, place, options)) continue;
    columns.rh_scale = options.rh_unit == RhUnit::fraction ? 100 : 1;
    return columns;
  }
  return {};
}

std::string option_named(const std::string& option) {
  std::string typed = option;
  std::replace(typed.begin(), typed.end(), '_', '-');
  return option + " (--" + typed + ")";
}

bool take_units(CsvReader& csv, LoggerColumns& columns, const LoggerReadOptions& options) {
  const std::string_view line = csv.line();
  if (line.find_first_of("0123456789") != std::string_view::npos) return false;
  const auto fields = csv.fields(columns.separator);
  if (!fields || fields->size() <= columns.rh || !(*fields)[columns.rh].starts_with('%')) {
    return false;
  }
  if (columns.temperature < fields->size() &&
      options.temperature_unit == TemperatureUnit::from_file) {
    const Words words = words_of((*fields)[columns.temperature]);
    columns.fahrenheit = columns.fahrenheit || any_is(words, kFahrenheit);
    columns.temperature_unit_said =
        columns.temperature_unit_said || any_is(words, kFahrenheit) || any_is(words, kCelsius);
  }
  return true;
}

bool names_readings(std::string_view text, const LoggerReadOptions& options) {
  CsvReader csv(text);
  for (long looked = 0; looked < kHeaderLines && csv.next_row(); ++looked) {
    try {
      if (recognise_header(csv, "", options)) return true;
    } catch (const FileError&) {
      return true;  // it does, and leaves a question open
    }
  }
  return false;
}

void refuse_without_header(const std::string& file, const LoggerReadOptions& options) {
  throw FileError(file, 0, "header",
                  "none of the first 60 lines names a time and a humidity column" +
                      asked_for(options) +
                      "; accepted is for instance 'time;temperature (C);RH (%)'");
}

}  // namespace aeruca::detail
