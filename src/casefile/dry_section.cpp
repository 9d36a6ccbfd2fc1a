#include <algorithm>

#include "aeruca/brine.hpp"
#include "aeruca/logger_files.hpp"
#include "aeruca/two_loggers.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

constexpr std::string_view kLore = "lore";  // source key of rules of thumb without a test

const OnsetBand& chosen_band(const Dataset& dataset) {
  for (const OnsetBand& band : dataset.onset_bands) {
    if (band.chosen) return band;
  }
  throw Error("the data set holds no chosen onset band");
}

const OnsetBand& band_of(const CaseFile& file, const Dataset& dataset) {
  if (file.store.onset.empty()) return chosen_band(dataset);
  std::vector<std::string> known;
  for (const OnsetBand& band : dataset.onset_bands) {
    if (band.id == file.store.onset) return band;
    known.push_back(band.id);
  }
  refuse_name(file, "store.onset", file.store.onset, known);
}

std::string limits_text(const OnsetCurve& onset) {
  const double low = onset.low_rh_percent.front();
  const double high = onset.high_rh_percent.front();
  if (low == high || std::isnan(high)) return format_number(low);
  return say("word.range", {{"low", format_number(low)}, {"high", format_number(high)}});
}

SensorCheck check_of(const CaseFile& file, const Dataset& dataset, const CaseSensorCheck& given) {
  try {
    return sensor_check(dataset, given.salt, given.temperature_c, given.reading_rh_percent);
  } catch (const UnknownName&) {
    refuse_name(file, "store.sensor_check.salt", given.salt, computable_salts(dataset));
  }
}

void take_sensor(const CaseFile& file, const Dataset& dataset, StoreOptions& options) {
  const CaseStore& store = file.store;
  options.drift_rh_percent_per_year = store.sensor_drift_rh_percent_per_year;
  if (!store.sensor_calibrated.empty())
    options.calibrated_s = calibrated_on(store.sensor_calibrated);
  for (const CaseSensorCheck& check : store.sensor_checks)
    options.checks.push_back(check_of(file, dataset, check));
}

StoreOptions options_of(const CaseFile& file, const Dataset& dataset, const OnsetBand& band) {
  StoreOptions options;
  options.onset = onset_curve(band);
  options.cooler_c = file.store.object_cooler_by_k;
  if (!std::isnan(file.store.sensor_accuracy_rh_percent)) {
    options.accuracy_rh_percent = file.store.sensor_accuracy_rh_percent;
  }
  take_sensor(file, dataset, options);
  return options;
}

std::string percent_text(double share) {
  return format_number(100 * share, 3) + " %";
}

// Percent, for a column that says so.
std::string share_text(const SensorRange& share) {
  return range_text(100 * share.as_read, 100 * share.if_reads_high, 100 * share.if_reads_low);
}

CaseFinding share_of(std::string key, std::string label, const TimeAbove& above) {
  CaseFinding finding =
      range_of(std::move(key), std::move(label), 100 * above.share.as_read,
               100 * above.share.if_reads_high, 100 * above.share.if_reads_low, "%");
  return noted(std::move(finding), say("dry.share_above.note"));
}

// "2025-07-17 06:00"
std::string minute_text(std::int64_t time_s) {
  std::string text = format_time(time_s).substr(0, 16);
  text[10] = ' ';
  return text;
}

void add_record_findings(CaseSection& section, const StoreAssessment& store) {
  section.findings.push_back(words_of("period", say("label.dry.period"),
                                      say("word.range", {{"low", minute_text(store.start_s)},
                                                         {"high", minute_text(store.end_s)}})));
  section.findings.push_back(
      noted(figure_of("coverage", say("label.dry.coverage"), 100 * store.coverage, "%"),
            say("dry.coverage.note", {{"gaps", std::to_string(store.gaps)},
                                      {"longest_h", format_number(store.longest_gap_hours, 3)}})));
  section.findings.push_back(range_of("rh_percent", say("label.dry.rh_percent"),
                                      store.rh_percent.p50, store.rh_percent.p5,
                                      store.rh_percent.p95, "% RH"));
  if (store.options.cooler_c != 0) {
    section.findings.push_back(
        noted(range_of("surface_rh_percent", say("label.dry.surface_rh_percent"),
                       store.surface_rh_percent.p50, store.surface_rh_percent.p5,
                       store.surface_rh_percent.p95, "% RH"),
              say("dry.surface_rh.note", {{"cooler_k", format_number(store.options.cooler_c)}})));
  }
}

// The end of the band that spells are counted against: the upper one, where the source names one.
const TimeAbove& above_band(const StoreAssessment& store) {
  return std::isnan(store.options.onset.high_rh_percent.front()) ? store.above_low
                                                                 : store.above_high;
}

CaseFinding longest_spell(const StoreAssessment& store) {
  const TimeAbove& above = above_band(store);
  std::string note = say("dry.longest_spell.note");
  if (above.longest.hours > 0) {
    note = say("dry.longest_spell.began",
               {{"start", minute_text(above.longest.start_s)},
                {"gap", (above.longest.touches_gap ? say("dry.longest_spell.borders_gap") : "")}});
  }
  return noted(
      range_of("longest_spell_h", say("label.dry.longest_spell_h"), above.longest_h.as_read,
               above.longest_h.if_reads_high, above.longest_h.if_reads_low, "h"),
      note);
}

void add_limit_findings(CaseSection& section, const StoreAssessment& store) {
  const OnsetCurve& onset = store.options.onset;
  const double low = onset.low_rh_percent.front();
  const double high = onset.high_rh_percent.front();
  section.findings.push_back(
      noted(words_of("onset", say("label.dry.onset"), limits_text(onset) + " % RH"), onset.title));
  section.findings.push_back(
      share_of("share_above_low_percent",
               say("label.dry.share_above_low_percent", {{"rh_percent", format_number(low)}}),
               store.above_low));
  if (!std::isnan(high) && high > low) {
    section.findings.push_back(
        share_of("share_above_high_percent",
                 say("label.dry.share_above_high_percent", {{"rh_percent", format_number(high)}}),
                 store.above_high));
  }
  section.findings.push_back(longest_spell(store));
  section.findings.push_back(figure_of("wet_dry_cycles", say("label.dry.wet_dry_cycles"),
                                       static_cast<double>(store.wet_dry_cycles), "times"));
}

void add_probabilities(CaseSection& section, const StoreAssessment& store) {
  if (store.verdict == Verdict::not_known) {
    section.findings.push_back(words_of("probability", say("label.dry.probability"),
                                        say("dry.probability.not_worked_out")));
    return;
  }
  section.findings.push_back(probability_of(
      "probability_dormant", say("label.dry.probability_dormant"), store.probability_dormant));
  section.findings.push_back(probability_of("probability_borderline",
                                            say("label.dry.probability_borderline"),
                                            store.probability_borderline));
  section.findings.push_back(
      noted(probability_of("probability_active", say("label.dry.probability_active"),
                           store.probability_active),
            say("dry.probability.note")));
  section.findings.push_back(noted(
      probability_of("probability_below_all_time", say("label.dry.probability_below_all_time"),
                     store.probability_below_all_time),
      say("dry.probability_below_all_time.note")));
}

void add_verdict_findings(CaseSection& section, const StoreAssessment& store) {
  add_probabilities(section, store);
  if (store.set_point_rh_percent >= 1) {
    section.findings.push_back(
        noted(figure_of("set_point_rh_percent", say("label.dry.set_point_rh_percent"),
                        std::floor(store.set_point_rh_percent), "% RH"),
              store.set_point));
  }
  if (store.worst_month >= 0) {
    const MonthSummary& month = store.months[static_cast<std::size_t>(store.worst_month)];
    section.findings.push_back(
        words_of("worst_month", say("label.dry.worst_month"),
                 say("dry.worst_month.text",
                     {{"month", std::to_string(month.year) + (month.month < 10 ? "-0" : "-") +
                                    std::to_string(month.month)},
                      {"share", percent_text(month.share_above_high)},
                      {"rh_percent", format_number(month.mean_rh_percent, 3)}})));
  }
}

// By another limit than the store's own: nothing where the checks of the sensor lie too far from it.
std::optional<StoreAssessment> judged_by(const OnsetCurve& onset, const LoggerRecord& record,
                                         StoreOptions options) {
  options.onset = onset;
  try {
    return assess_store(record, options);
  } catch (const InputError&) {
    if (options.checks.empty()) throw;
    return {};
  }
}

// The published limits disagree; so the reader sees what each would say.
CaseTable bands_table(const LoggerRecord& record, const StoreOptions& chosen,
                      const Dataset& dataset) {
  CaseTable table;
  table.title = say("dry.bands.title");
  table.columns = {say("column.limit"),      "% RH",
                   say("column.time_above"), say("column.verdict"),
                   say("column.dormant"),    say("column.active")};
  for (const OnsetBand& band : dataset.onset_bands) {
    if (band.source == kLore) continue;
    const OnsetCurve onset = onset_curve(band);
    const auto store = judged_by(onset, record, chosen);
    if (!store) {
      table.rows.push_back({band.id, limits_text(onset), say("word.not_known"),
                            verdict_word(Verdict::not_known), "-", "-"});
      continue;
    }
    const bool known = store->verdict != Verdict::not_known;
    table.rows.push_back({band.id, limits_text(onset), share_text(above_band(*store).share),
                          verdict_word(store->verdict),
                          known ? probability_text(store->probability_dormant) : "-",
                          known ? probability_text(store->probability_active) : "-"});
  }
  table.note = say("dry.bands.note");
  return table;
}

std::string measured_text(const Deliquescence& salt) {
  if (salt.measured.empty()) return say("word.none");
  const MeasuredHumidity& nearest = salt.measured.front().measured;
  return say("dry.salts.measured", {{"rh_percent", format_number(nearest.rh_percent, 4)},
                                    {"temperature_c", format_number(nearest.temperature_c, 3)}});
}

std::string time_wet(const std::optional<LoggerRecord>& record, const StoreOptions& options,
                     double rh_percent) {
  if (!record || std::isnan(rh_percent) || rh_percent > 100) return say("word.not_known");
  const auto at_salt = judged_by(onset_curve(rh_percent), *record, options);
  return at_salt ? share_text(at_salt->above_high.share) : say("word.not_known");
}

CaseTable salts_table(const CaseFile& file, const Dataset& dataset,
                      const std::optional<LoggerRecord>& record, const StoreOptions& options,
                      double temperature_c, CaseSection& section) {
  CaseTable table;
  table.title = say("dry.salts.title", {{"temperature_c", format_number(temperature_c, 3)}});
  table.columns = {say("column.salt"), say("column.dissolves_above_rh"), say("column.measured_rh"),
                   say("column.time_wet_in_this_store")};
  for (const std::string& name : file.store.salts) {
    try {
      const Deliquescence salt = deliquescence(dataset, name, temperature_c);
      const double humidity = salt.rh_percent;
      table.rows.push_back({salt.solid + " (" + salt.salt + ")",
                            std::isnan(humidity)
                                ? say("dry.salts.not_known", {{"reason", salt.not_known_because}})
                                : plus_minus(humidity, salt.rh_uncertainty_percent),
                            measured_text(salt), time_wet(record, options, humidity)});
      add_warnings(section, salt.warnings);
    } catch (const UnknownName&) {
      refuse_name(file, "store.salts", name, computable_salts(dataset));
    }
  }
  table.note = say("dry.salts.note");
  return table;
}

void add_faults(CaseSection& section, const LoggerRecord& record) {
  std::string counted;
  for (std::size_t kind = 0; kind < kFaultKinds; ++kind) {
    if (record.fault_counts[kind] == 0) continue;
    if (!counted.empty()) counted += ", ";
    counted += choice_word("fault", to_string(static_cast<FaultKind>(kind))) + " " +
               std::to_string(record.fault_counts[kind]);
  }
  if (!counted.empty()) {
    section.remarks.emplace_back(say("dry.remark.faults", {{"faults", counted}}));
  }
}

std::string answer_of(const StoreAssessment& store) {
  return say("dry.answer.conditions",
             {{"verdict", verdict_word(store.verdict)}, {"reason", without_stop(store.reason)}});
}

// What a second logger beside the first says; a reason why it says nothing is a remark.
void add_second_logger(const CaseFile& file, const LoggerRecord& record,
                       const StoreOptions& options, CaseSection& section) {
  if (file.store.beside.empty()) return;
  StoreOptions other = options;
  other.checks.clear();
  if (!std::isnan(file.store.beside_accuracy_rh_percent))
    other.accuracy_rh_percent = file.store.beside_accuracy_rh_percent;
  try {
    const std::string path = existing_log(file, "store.beside", file.store.beside);
    const LoggerRecord second = read_logger_csv(path, file.store.reading);
    const TwoLoggers two = compare_loggers(record, options, second, other);
    section.findings.push_back(
        noted(figure_of("two_loggers_difference_rh_percent", say("label.dry.two_loggers"),
                        two.difference_rh_percent, "% RH"),
              two.said));
  } catch (const Error& problem) {
    section.status = SectionStatus::partly;
    section.missing.push_back(say("dry.missing.beside", {{"problem", problem.what()}}));
  }
}

void assess_record(const CaseFile& file, const Dataset& dataset, const LoggerRecord& record,
                   const StoreOptions& options, StoreAnswer& answer) {
  CaseSection& section = answer.section;
  try {
    answer.assessment = assess_store(record, options);
  } catch (const InputError& problem) {
    if (options.checks.empty()) throw;
    throw file.fault("store.sensor_check", problem.value + "; accepted is " + problem.accepted);
  }
  const StoreAssessment& store = *answer.assessment;
  section.status = SectionStatus::answered;
  section.answer = answer_of(store);
  add_record_findings(section, store);
  add_limit_findings(section, store);
  add_verdict_findings(section, store);
  add_second_logger(file, record, options, section);
  section.tables.push_back(bands_table(record, options, dataset));
  add_files(section, record);
  for (const std::string& how : record.read_as)
    section.remarks.emplace_back(say("dry.remark.read_as", {{"how", how}}));
  add_faults(section, record);
  add_new(section.warnings, as_sentences(store.warnings));
  if (std::isnan(file.store.sensor_accuracy_rh_percent)) {
    section.status = SectionStatus::partly;
    section.missing.emplace_back(say("dry.missing.sensor_accuracy",
                                     {{"rh_percent", format_number(options.accuracy_rh_percent)}}));
  }
}

}  // namespace

StoreAnswer dry_section(const CaseFile& file, const DatasetPointer& dataset) {
  StoreAnswer answer;
  answer.section = section_of("dry");
  CaseSection& section = answer.section;
  const OnsetBand& band = band_of(file, *dataset);
  const StoreOptions options = options_of(file, *dataset, band);
  answer.options = options;
  section.figures.push_back(band.id);
  std::optional<LoggerRecord>& record = answer.record;
  if (file.store.log.empty()) {
    section.answer = say("dry.answer.no_record",
                         {{"rh_percent", limits_text(options.onset)}, {"band", band.id}});
    section.missing.emplace_back(say("dry.missing.log"));
  } else {
    try {
      record = read_logger_files(existing_logs(file), file.store.reading);
    } catch (const FileError& problem) {
      mark_bad_input(section, say("dry.record_name"), problem.what());
    }
    if (record) assess_record(file, *dataset, *record, options, answer);
  }
  const double median = answer.assessment ? answer.assessment->temperature_c.p50 : kNotGiven;
  const double temperature_c = std::isnan(median) ? 25.0 : median;
  if (!file.store.salts.empty())
    section.tables.push_back(salts_table(file, *dataset, record, options, temperature_c, section));
  if (!file.store.salt_analysis.empty()) add_mixture(file, dataset, temperature_c, answer);
  section.remarks.emplace_back(say("dry.remark.not_how_fast"));
  return answer;
}

}  // namespace aeruca::detail
