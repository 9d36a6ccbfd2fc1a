#include <memory>
#include <optional>

#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "aeruca/store.hpp"
#include "aeruca/two_loggers.hpp"
#include "base/text.hpp"
#include "cli/box_request.hpp"
#include "cli/commands.hpp"
#include "cli/named_number.hpp"
#include "cli/store_table.hpp"
#include "render/enclosure_report.hpp"
#include "render/store_report.hpp"

namespace aeruca::cli {
namespace {

struct StoreRequest {
  std::vector<std::string> files;
  std::string table;
  std::string onset;
  double limit_rh = 0;
  std::string salt;
  std::string meaning = "uniform";
  std::string date_order = "from_file";
  std::string rh_unit = "from_file";
  std::string temperature_unit = "from_file";
  std::string future_times = "ask";
  std::vector<std::string> checks;
  double check_temperature_c = 0;
  std::string calibrated;
  StoreOptions store;
  LoggerReadOptions read;
  std::string beside;
  double beside_accuracy = 0;
  Option* beside_accuracy_option = nullptr;
  BoxRequest box;
  Option* limit_option = nullptr;
  Option* check_temperature_option = nullptr;
};

OnsetCurve wanted_onset(const StoreRequest& request, const Dataset& dataset) {
  const bool limit = request.limit_option->count() > 0;
  if ((limit ? 1 : 0) + (request.onset.empty() ? 0 : 1) + (request.salt.empty() ? 0 : 1) > 1) {
    throw UsageError("--onset, --limit-rh, --salt", "only one of them can be given");
  }
  if (limit) return onset_curve(request.limit_rh);
  if (!request.salt.empty()) return salt_onset_curve(dataset, request.salt);
  return published_onset(dataset, request.onset);
}

// "halite=73.9": what the sensor read over which salt.
SensorCheck check_from(const std::string& text, double temperature_c, const Dataset& dataset) {
  const auto [salt, reading] = named_number("--check", text, "SALT=READING, such as halite=73.9");
  return sensor_check(dataset, salt, temperature_c, reading);
}

void take_checks(StoreRequest& request, const Dataset& dataset) {
  const bool temperature = request.check_temperature_option->count() > 0;
  if (temperature == request.checks.empty()) {
    throw UsageError("--check, --check-temperature", "the one wants the other");
  }
  for (const std::string& check : request.checks)
    request.store.checks.push_back(check_from(check, request.check_temperature_c, dataset));
}

void take_sensor(StoreRequest& request, const Dataset& dataset) {
  request.store.accuracy_meaning = accuracy_meaning(request.meaning);
  if (!request.calibrated.empty()) request.store.calibrated_s = calibrated_on(request.calibrated);
  take_checks(request, dataset);
}

// The other logger is judged by the same limit and rules; only its accuracy is its own.
TwoLoggers with_other(const StoreRequest& request, const LoggerRecord& record) {
  StoreOptions other = request.store;
  other.checks.clear();
  if (request.beside_accuracy_option->count() > 0)
    other.accuracy_rh_percent = request.beside_accuracy;
  return compare_loggers(record, request.store, read_logger_files({request.beside}, request.read),
                         other);
}

// The box that the record was kept in; none where nothing is said of one.
std::optional<detail::StoreBox> box_of(const StoreRequest& request, const LoggerRecord& record,
                                       const StoreAssessment& store, Context& context) {
  if (!request.box.given()) return std::nullopt;
  if (!request.box.volume_m3)
    throw UsageError("--volume", "is needed beside the other options of a box");
  ReviewedBox answer = review_box(request.box, *context.dataset(), &record, &store);
  if (answer.review) return detail::StoreBox{std::move(*answer.review), answer.fit};
  context.err << detail::exchange_text(*answer.fit);
  context.exit_code = kNoAnswer;
  return std::nullopt;
}

void run(StoreRequest& request, Context& context) {
  const auto dataset = context.dataset();
  request.store.onset = wanted_onset(request, *dataset);
  take_sensor(request, *dataset);
  request.read.workbook = context.workbook;
  request.box.read.workbook = context.workbook;
  request.read.date_order = date_order(request.date_order);
  request.read.rh_unit = rh_unit(request.rh_unit);
  request.read.temperature_unit = temperature_unit(request.temperature_unit);
  request.read.future_times = future_times(request.future_times);
  if (!request.table.empty()) {
    if (!request.beside.empty() || !request.checks.empty())
      throw UsageError("--table",
                       "goes neither with --beside nor with --check, which are of one logger");
    write_store_table(request.table, request.files, request.read, request.store, context);
    return;
  }
  const LoggerRecord record = read_logger_files(request.files, request.read);
  const StoreAssessment assessment = assess_store(record, request.store);
  if (request.beside.empty() && request.beside_accuracy_option->count() > 0)
    throw UsageError("--beside-accuracy", "only with --beside");
  const auto two = request.beside.empty() ? std::nullopt
                                          : std::optional<TwoLoggers>(with_other(request, record));
  const auto box = box_of(request, record, assessment, context);
  context.out << (context.json ? detail::store_json(record, assessment, two, box, *dataset)
                               : detail::store_text(record, assessment, two, box, *dataset));
  if (assessment.verdict == Verdict::not_known) context.exit_code = kNoAnswer;
  for (const JoinedFile& file : record.files) {
    if (file.problem.empty()) continue;
    context.err << "aeruca: " << file.problem << '\n';
    context.exit_code = kBadInput;
  }
}

void add_limits(Command& command, StoreRequest& request) {
  command.add_option("--onset", request.onset,
                     "published humidity band by its id (default: the chosen one)");
  request.limit_option =
      command.add_option("--limit-rh", request.limit_rh, "a limit of your own, % RH");
  command.add_option("--salt", request.salt,
                     "deliquescence of a salt as the limit, such as halite");
}

void add_sensor(Command& command, StoreRequest& request) {
  command
      .add_option("--accuracy", request.store.accuracy_rh_percent,
                  "plus-minus of the sensor as its maker states it, % RH")
      ->capture_default_str();
  command
      .add_option("--accuracy-means", request.meaning,
                  "uniform: all values inside equally likely; normal_95: a 95 % interval")
      ->one_of({"uniform", "normal_95"})
      ->capture_default_str();
  command.add_option("--check", request.checks,
                     "reading of the sensor in a jar over a saturated salt, such as halite=73.9; "
                     "may be given again for another salt");
  request.check_temperature_option = command.add_option(
      "--check-temperature", request.check_temperature_c, "of the jar, degrees C");
  command.add_option("--beside", request.beside,
                     "record of a second logger at the same place, to compare");
  request.beside_accuracy_option =
      command.add_option("--beside-accuracy", request.beside_accuracy,
                         "plus-minus of the second sensor, % RH (default: as the first)");
  command
      .add_option("--drift", request.store.drift_rh_percent_per_year,
                  "plus-minus of the sensor's drift, % RH a year; wants --calibrated")
      ->capture_default_str();
  command.add_option("--calibrated", request.calibrated,
                     "day of the last calibration or check, such as 2026-03-01");
  command
      .add_option("--random", request.store.random_rh_percent,
                  "standard deviation of each reading's own error, % RH")
      ->capture_default_str();
  command
      .add_option("--cooler", request.store.cooler_c,
                  "how much cooler than the air the object is, K")
      ->capture_default_str();
}

void add_reading(Command& command, StoreRequest& request) {
  command
      .add_option("--max-bad-share", request.read.max_bad_share,
                  "refuse the file when a larger share of its lines cannot be used")
      ->capture_default_str();
  command
      .add_option("--gap-factor", request.read.gap_factor,
                  "a gap is longer than this many usual intervals")
      ->capture_default_str();
  command
      .add_option("--stuck-hours", request.read.stuck_hours,
                  "a sensor is stuck when nothing changes for this long")
      ->capture_default_str();
  command
      .add_option("--spike", request.read.spike_rh_percent,
                  "a spike stands out by more than this from both neighbours, % RH")
      ->capture_default_str();
  command.add_option("--sheet", request.read.sheet,
                     "name of the sheet of a workbook, where several hold readings");
  command.add_option("--time-column", request.read.time_column,
                     "exact name of the column with the time");
  command.add_option("--clock-column", request.read.clock_column,
                     "exact name of a column with the time of day, apart from the date");
  command.add_option("--temperature-column", request.read.temperature_column,
                     "exact name of its column");
  command.add_option("--rh-column", request.read.rh_column,
                     "exact name of the column with the humidity");
  command.add_option("--dew-point-column", request.read.dew_point_column,
                     "exact name of a column with the dew point, in place of the humidity");
  command.add_option("--absolute-humidity-column", request.read.absolute_humidity_column,
                     "exact name of a column with g/m3 of water, in place of the humidity");
}

// What a file may leave open.
void add_answers(Command& command, StoreRequest& request) {
  command
      .add_option("--date-order", request.date_order, "which of the two is the day in 03/04/2024")
      ->one_of({"from_file", "day_first", "month_first"})
      ->capture_default_str();
  command.add_option("--rh-unit", request.rh_unit, "percent, or parts of one")
      ->one_of({"from_file", "percent", "fraction"})
      ->capture_default_str();
  command.add_option("--temperature-unit", request.temperature_unit, "degrees C or F")
      ->one_of({"from_file", "celsius", "fahrenheit"})
      ->capture_default_str();
  command.add_option("--future-times", request.future_times, "whether times after today are meant")
      ->one_of({"ask", "accept"})
      ->capture_default_str();
}

}  // namespace

void add_store(Command& app, Context& context) {
  auto request = std::make_shared<StoreRequest>();
  Command* command = app.add_subcommand(
      "store", "judge a humidity logger record: how dry, how surely, what is wrong with it");
  command->add_option("files", request->files,
                      "logger files (CSV), a folder of them or a pattern such as \"logs/*.csv\": "
                      "joined as the record of one logger");
  command->add_option("--table", request->table,
                      "take each file for an object, and write a table of them by risk to this "
                      "file (CSV), in place of the one that was there");
  add_limits(*command, *request);
  add_sensor(*command, *request);
  add_reading(*command, *request);
  add_answers(*command, *request);
  add_box_options(*command, request->box, BoxStands::beside_record);
  command->footer(
      "Exit code: 0 done; 1 a file cannot be used: of several, the rest is done and each that\n"
      "cannot is named; 2 usage; 3 the record says too little for a verdict.");
  const Command* box = add_store_box(*command, context);
  command->callback([request, box, &context] {
    if (box->count_all() > 0) return;
    if (request->files.empty())
      throw UsageError("a logger file is required, a folder of them or a pattern");
    run(*request, context);
  });
}

}  // namespace aeruca::cli
