#include "aeruca/casefile.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <sstream>

#include "base/hash.hpp"
#include "base/text.hpp"
#include "base/toml_text.hpp"
#include "casefile/case_workbook.hpp"
#include "casefile/read_enclosure.hpp"
#include "casefile/read_water.hpp"
#include "casefile/section.hpp"

namespace aeruca {
namespace {

using detail::Limits;
using detail::read_enclosure;
using detail::read_water;
using detail::Section;

constexpr Limits kMilligramsPerLitre{0, 500000};
constexpr Limits kTemperature{0, 50};
constexpr Limits kPercent{0, 100};
constexpr double kTiny = 1e-6;

std::string numbered(const std::string& name, std::size_t index, std::size_t count) {
  return count == 1 ? name : name + "[" + std::to_string(index + 1) + "]";
}

CaseObject read_object(Section section) {
  CaseObject object;
  object.name = section.text("name");
  object.material = section.text("material");
  object.mass_g = section.number("mass_g", {kTiny, 1e8}, kNotGiven);
  object.features = section.choices("features", object_features());
  static const std::vector<std::string> outcomes{"positive", "negative", "not done"};
  object.silver_nitrate_test = section.choice("silver_nitrate_test", outcomes, "");
  object.notes = section.text("notes");
  section.finish();
  return object;
}

CaseObservation read_observation(Section section) {
  CaseObservation observation;
  observation.date = section.date("date");
  observation.kind = section.choice("kind", observation_kinds(), "");
  observation.text = section.text("text");
  observation.seen = section.texts("seen");
  section.finish();
  return observation;
}

CasePit read_pit(Section section) {
  CasePit pit;
  pit.given = true;
  pit.chloride_activity = section.number("chloride_activity", {1e-6, 10}, pit.chloride_activity);
  pit.copper_activity = section.number("copper_activity", {1e-12, 10}, pit.copper_activity);
  section.finish();
  return pit;
}

std::string column_of_log(Section& section, std::string_view key, const CaseStore& store) {
  std::string name = section.text(key);
  if (!name.empty() && store.log.empty())
    section.refuse(key, "names a column of no log; accepted with log = \"...\" beside it");
  return name;
}

// How a log is written: one of the words of an option of `LoggerReadOptions`.
template <class Choice, std::size_t N>
Choice way_of_log(Section& section, std::string_view key, const CaseStore& store,
                  const std::array<Choice, N>& choices) {
  std::array<std::string, N> words;
  for (std::size_t i = 0; i < N; ++i) words[i] = to_string(choices[i]);
  const std::string word = section.choice(key, words, "");
  if (word.empty()) return choices[0];
  if (store.log.empty())
    section.refuse(key, "says how no log is written; accepted with log = \"...\" beside it");
  return choices[static_cast<std::size_t>(std::find(words.begin(), words.end(), word) -
                                          words.begin())];
}

LoggerReadOptions read_log_options(Section& section, const CaseStore& store) {
  LoggerReadOptions reading;
  reading.sheet = section.text("sheet");
  if (!reading.sheet.empty() && store.log.empty())
    section.refuse("sheet", "names a sheet of no log; accepted with log = \"...\" beside it");
  reading.time_column = column_of_log(section, "time_column", store);
  reading.clock_column = column_of_log(section, "clock_column", store);
  reading.temperature_column = column_of_log(section, "temperature_column", store);
  reading.rh_column = column_of_log(section, "rh_column", store);
  reading.dew_point_column = column_of_log(section, "dew_point_column", store);
  reading.absolute_humidity_column = column_of_log(section, "absolute_humidity_column", store);
  reading.date_order =
      way_of_log(section, "date_order", store,
                 std::array{DateOrder::from_file, DateOrder::day_first, DateOrder::month_first});
  reading.rh_unit = way_of_log(section, "rh_unit", store,
                               std::array{RhUnit::from_file, RhUnit::percent, RhUnit::fraction});
  reading.temperature_unit =
      way_of_log(section, "temperature_unit", store,
                 std::array{TemperatureUnit::from_file, TemperatureUnit::celsius,
                            TemperatureUnit::fahrenheit});
  reading.future_times =
      way_of_log(section, "future_times", store, std::array{FutureTimes::ask, FutureTimes::accept});
  return reading;
}

CaseSensorCheck read_sensor_check(Section section) {
  CaseSensorCheck check;
  check.salt = section.text("salt");
  check.temperature_c = section.number("temperature_c", {0, 50}, kNotGiven);
  check.reading_rh_percent = section.number("reading_rh_percent", {0, 110}, kNotGiven);
  for (const auto& [key, missing] :
       {std::pair{"salt", check.salt.empty()},
        {"temperature_c", std::isnan(check.temperature_c)},
        {"reading_rh_percent", std::isnan(check.reading_rh_percent)}}) {
    if (missing) section.refuse(key, "missing; accepted is a check with all three of its keys");
  }
  section.finish();
  return check;
}

void read_sensor(Section& section, CaseStore& store, CaseFile& file) {
  store.sensor_accuracy_rh_percent =
      section.number("sensor_accuracy_rh_percent", {0, 25}, kNotGiven);
  store.sensor_drift_rh_percent_per_year =
      section.number("sensor_drift_rh_percent_per_year", {0, 20}, 0);
  store.sensor_calibrated = section.date("sensor_calibrated");
  if ((store.sensor_drift_rh_percent_per_year > 0) == store.sensor_calibrated.empty()) {
    section.refuse(
        store.sensor_calibrated.empty() ? "sensor_drift_rh_percent_per_year" : "sensor_calibrated",
        "one of the two alone; accepted is a drift above 0 with the day it runs from");
  }
  const auto checks = section.tables("sensor_check");
  for (std::size_t i = 0; i < checks.size(); ++i) {
    store.sensor_checks.push_back(read_sensor_check(
        Section(*checks[i], numbered("store.sensor_check", i, checks.size()), file)));
  }
  store.beside = section.text("beside");
  store.beside_accuracy_rh_percent =
      section.number("beside_accuracy_rh_percent", {0, 25}, kNotGiven);
  if (store.beside.empty() && !std::isnan(store.beside_accuracy_rh_percent))
    section.refuse("beside_accuracy_rh_percent", "without 'beside'; accepted is both or neither");
}

CaseStore read_store(Section section, CaseFile& file) {
  CaseStore store;
  store.given = true;
  store.name = section.text("name");
  store.log = section.text_or_texts("log");
  store.reading = read_log_options(section, store);
  store.onset = section.text("onset");
  read_sensor(section, store, file);
  store.object_cooler_by_k = section.number("object_cooler_by_k", {-20, 20}, 0);
  store.salts = section.texts("salts");
  store.salt_analysis = section.text("salt_analysis");
  if (const toml::table* table = section.table("enclosure"))
    store.enclosure = read_enclosure(Section(*table, "store.enclosure", file));
  section.finish();
  return store;
}

CaseSolution read_solution(Section section) {
  CaseSolution solution;
  solution.given = true;
  solution.salt = section.text("salt");
  solution.strength_percent_w_v = section.number("strength_percent_w_v", {kTiny, 50}, kNotGiven);
  solution.on_the_shelf = section.text("on_the_shelf");
  solution.purity_percent = section.number("purity_percent", {1, 100}, 100);
  solution.salt_chloride_percent = section.number("salt_chloride_percent", {0, 1}, kNotGiven);
  solution.water_chloride_mg_per_l =
      section.number("water_chloride_mg_per_l", {0, 35000}, kNotGiven);
  solution.volume_l = section.number("volume_l", {kTiny, 1e6}, kNotGiven);
  solution.temperature_c = section.number("temperature_c", kTemperature, 25);
  section.finish();
  return solution;
}

CaseBath read_bath(Section section, CaseFile& file) {
  CaseBath bath;
  bath.given = true;
  bath.log = section.text("log");
  static const std::vector<std::string> shapes{"slab", "cylinder", "sphere"};
  static const std::vector<std::string> loads{"uniform", "at-metal"};
  bath.shape = section.choice("shape", shapes, "slab");
  bath.load = section.choice("load", loads, "uniform");
  if (bath.load == "at-metal" && bath.shape != "slab") {
    section.refuse("load", "'at-metal' beside shape '" + bath.shape +
                               "'; accepted is 'at-metal' with a slab only");
  }
  bath.layer_thickness_mm = section.number("layer_thickness_mm", {kTiny, 1e4}, kNotGiven);
  bath.stop_mg_per_l = section.number("stop_mg_per_l", kMilligramsPerLitre, kNotGiven);
  bath.target_left_mg_per_g = section.number("target_left_mg_per_g", {kTiny, 1000}, kNotGiven);
  bath.next_volume_l = section.number("next_volume_l", {kTiny, 1e6}, kNotGiven);
  bath.next_days = section.number("next_days", {kTiny, 36500}, kNotGiven);
  bath.chloride_method = section.text("chloride_method");
  bath.reading_error_percent = section.number("reading_error_percent", {0.01, 100}, kNotGiven);
  bath.volume_error_percent = section.number("volume_error_percent", kPercent, kNotGiven);
  if (const toml::table* table = section.table("solution")) {
    bath.solution = read_solution(Section(*table, "bath.solution", file));
  }
  section.finish();
  return bath;
}

CaseFile read_sections(const toml::table& table, CaseFile file) {
  Section top(table, "", file);
  if (top.number("schema", {0, 1e6}, kCaseSchema) != kCaseSchema) {
    top.refuse("schema", "a form of case file that this version does not read; accepted is " +
                             std::to_string(kCaseSchema));
  }
  file.invented = top.flag("invented");
  if (const toml::table* object = top.table("object")) {
    file.object = read_object(Section(*object, "object", file));
  }
  const auto observations = top.tables("observation");
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const std::string name = numbered("observation", i, observations.size());
    file.observations.push_back(read_observation(Section(*observations[i], name, file)));
  }
  const auto waters = top.tables("water");
  for (std::size_t i = 0; i < waters.size(); ++i) {
    file.waters.push_back(
        read_water(Section(*waters[i], numbered("water", i, waters.size()), file)));
  }
  if (const toml::table* pit = top.table("pit")) file.pit = read_pit(Section(*pit, "pit", file));
  if (const toml::table* store = top.table("store")) {
    file.store = read_store(Section(*store, "store", file), file);
  }
  if (const toml::table* bath = top.table("bath")) {
    file.bath = read_bath(Section(*bath, "bath", file), file);
  }
  top.finish();
  return file;
}

}  // namespace

std::string CaseFile::resolve(const std::string& relative) const {
  const std::filesystem::path given(relative);
  if (given.is_absolute()) return relative;
  return (std::filesystem::path(path).parent_path() / given).string();
}

long CaseFile::line_of(const std::string& key) const {
  const auto found = lines.find(key);
  return found == lines.end() ? 0 : found->second;
}

namespace detail {

CaseFile parse_case_text(std::string_view text, CaseFile file) {
  const std::string& path = file.path;
  refuse_broken_toml(path, text);
  toml::table table;
  try {
    table = toml::parse(text, path);
  } catch (const toml::parse_error& problem) {
    std::string said(problem.description());
    const std::size_t detail =
        said.rfind(": ", said.find('\''));  // "Error while parsing ...: what is wrong"
    if (detail != std::string::npos) said.erase(0, detail + 2);
    said += "; accepted are lines such as key = 12 or key = \"text\" below a [section]";
    throw FileError(path, static_cast<long>(problem.source().begin.line), "", said);
  }
  return read_sections(table, std::move(file));
}

}  // namespace detail

CaseFile parse_case_file(std::string_view text, const std::string& path) {
  CaseFile file;
  file.path = path;
  file.content_hash = detail::content_hash(text);
  return detail::parse_case_text(text, std::move(file));
}

FileError CaseFile::fault(const std::string& key, const std::string& problem) const {
  const auto cell = cells.find(key);
  if (cell != cells.end()) return {path, 0, cell->second, problem};
  return {path, cells.empty() ? line_of(key) : 0, key, problem};
}

CaseFile read_case_file(const std::string& path, const CaseWorkbooks& workbooks) {
  if (detail::is_case_workbook(path)) return detail::read_case_workbook(path, workbooks);
  constexpr std::size_t kLimit = std::size_t{1} << 22;
  return parse_case_file(detail::read_file(path, kLimit), path);
}

}  // namespace aeruca
