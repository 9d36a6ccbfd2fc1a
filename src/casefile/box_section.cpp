// How long the box keeps the object dry: its forecast, joined to the record inside it.

#include <algorithm>
#include <cmath>

#include "aeruca/logger_files.hpp"
#include "base/calendar.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

constexpr std::int64_t kDaySeconds = 86400;
constexpr double kYearDays = 365;
constexpr std::size_t kShownTimes = 8;
constexpr std::string_view kTable = "store.enclosure.";

// The key that a parameter of the forecast has in the case file.
std::string key_of(const std::string& parameter) {
  if (parameter == "days") return "visit_days";
  if (parameter == "rh_percent") return "outside_rh_percent";
  return parameter;
}

[[noreturn]] void refuse(const CaseFile& file, const InputError& problem) {
  const std::string key = std::string(kTable) + key_of(problem.parameter);
  std::string said = problem.what();
  const std::string head = problem.parameter + " = ";
  if (said.starts_with(head)) said.erase(0, head.size());
  throw file.fault(key, said);
}

bool has_record(const StoreAnswer& dry) {
  return dry.record && dry.record->size() > 0;
}

std::vector<std::string> missing_of(const CaseEnclosure& asked, const StoreAnswer& dry) {
  std::vector<std::string> missing;
  if (std::isnan(asked.box.volume_m3)) missing.push_back(say("box.missing.volume"));
  const bool leakage = !std::isnan(asked.box.exchange_per_day) || !asked.decay_test.empty() ||
                       (!asked.outside_log.empty() && has_record(dry));
  if (!leakage) missing.push_back(say("box.missing.exchange"));
  if (asked.outside_log.empty() && std::isnan(asked.outside_rh_percent))
    missing.push_back(say("box.missing.outside"));
  if (asked.outside_log.empty() && std::isnan(asked.temperature_c))
    missing.push_back(say("box.missing.temperature"));
  if (std::isnan(asked.box.start_rh_percent) && !has_record(dry))
    missing.push_back(say("box.missing.start"));
  return missing;
}

// What is outside, and the exchange where it is found in measurements.
struct Measured {
  Climate climate;
  std::optional<ExchangeFit> exchange;
};

Measured measured_of(const CaseFile& file, const Dataset& dataset, const StoreAnswer& dry) {
  const CaseEnclosure& asked = file.store.enclosure;
  Measured found;
  std::optional<LoggerRecord> outside;
  if (!asked.outside_log.empty())
    outside = read_logger_csv(existing_log(file, "store.enclosure.outside_log", asked.outside_log));
  found.climate = outside ? climate_of(*outside)
                          : constant_climate(asked.temperature_c, asked.outside_rh_percent);
  found.climate.inside_temperature_c = asked.inside_temperature_c;
  if (!asked.decay_test.empty()) {
    found.exchange =
        fit_decay(read_decay(existing_log(file, "store.enclosure.decay_test", asked.decay_test)),
                  asked.decay_background);
  } else if (std::isnan(asked.box.exchange_per_day)) {
    found.exchange = fit_exchange(dataset, asked.box, *dry.record, *outside);
  }
  return found;
}

// The lower end of the onset band, for air that may be warmer than the object.
double onset_in_air(const CaseFile& file, const StoreOptions& options, const Climate& climate) {
  const double low = options.onset.low_rh_percent.front();
  const double inside = std::isnan(climate.inside_temperature_c) ? climate.temperature_c.front()
                                                                 : climate.inside_temperature_c;
  return low / surface_rh_percent(1, inside, file.store.object_cooler_by_k);
}

double visit_days(const CaseEnclosure& asked, const Climate& climate) {
  if (!std::isnan(asked.visit_days)) return asked.visit_days;
  return climate.constant() ? kYearDays
                            : std::min(kYearDays, std::floor(climate.until_days.back()));
}

ReviewRequest request_of(const CaseFile& file, const StoreAnswer& dry, const Measured& measured) {
  const CaseEnclosure& asked = file.store.enclosure;
  ReviewRequest request;
  request.enclosure = asked.box;
  request.climate = measured.climate;
  request.options.days = visit_days(asked, measured.climate);
  request.options.limit_rh_percent = asked.limit_rh_percent;
  if (measured.exchange) {
    request.enclosure.exchange_per_day = measured.exchange->exchange_per_day;
    request.options.exchange_relative_sd = measured.exchange->relative_sd;
  }
  if (!std::isnan(asked.exchange_uncertainty_percent))
    request.options.exchange_relative_sd = asked.exchange_uncertainty_percent / 100;
  if (const auto day = parse_date(asked.started)) request.start_s = *day * kDaySeconds;
  const bool set_point = dry.assessment && dry.assessment->set_point_rh_percent >= 1;
  if (std::isnan(asked.limit_rh_percent) && !set_point) {
    request.options.limit_rh_percent = onset_in_air(file, dry.options, measured.climate);
    request.limit_from = LimitFrom::onset;
  }
  return request;
}

CaseFinding drawn(const char* key, const std::string& label, const DrawnFigure& figure,
                  const std::string& unit) {
  CaseFinding finding = range_of(key, label, figure.value, figure.low, figure.high, unit);
  const auto text = [](double value) {
    return std::isinf(value) ? say("word.never") : format_number(value, 3);
  };
  if (std::isnan(figure.value) || std::isnan(figure.low)) {
    if (std::isinf(figure.value)) finding.text = say("word.never");
    return finding;
  }
  if (std::isinf(figure.value) || std::isinf(figure.low) || std::isinf(figure.high))
    finding.text = say("number.range", {{"value", text(figure.value)},
                                        {"low", text(figure.low)},
                                        {"high", text(figure.high)}}) +
                   " " + (unit == "days" ? choice_word("unit", unit) : unit);
  return finding;
}

CaseFinding open_ended(const char* key, const std::string& label, double value,
                       const std::string& unit) {
  return drawn(key, label, {value, kNotGiven, kNotGiven}, unit);
}

void add_review(CaseSection& section, const Review& review) {
  if (!review.review_date.empty())
    section.findings.push_back(
        words_of("review_date", say("label.box.review_date"), review.review_date));
  section.findings.push_back(open_ended("days_unattended", say("label.box.days_unattended"),
                                        review.days_unattended, "days"));
  section.findings.push_back(open_ended("days_half_passed", say("label.box.days_half_passed"),
                                        review.days_half_passed, "days"));
  section.findings.push_back(figure_of("limit_rh_percent", say("label.box.limit_rh_percent"),
                                       review.limit_rh_percent, "% RH", 4));
}

void add_forecast(CaseSection& section, const EnclosureForecast& f) {
  const std::string visit = format_number(f.options.days, 4);
  section.findings.push_back(
      noted(drawn("days_to_limit", say("label.box.days_to_limit"), f.days_to_limit, "days"),
            say("box.draws.note")));
  section.findings.push_back(probability_of("probability_reached",
                                            say("label.box.probability_reached", {{"days", visit}}),
                                            f.probability_reached));
  section.findings.push_back(drawn("gel_for_visit_kg",
                                   say("label.box.gel_for_visit_kg", {{"days", visit}}),
                                   f.gel_for_visit_kg, "kg"));
  section.findings.push_back(open_ended("days_to_limit_half_exchange",
                                        say("label.box.days_to_limit_half_exchange"),
                                        f.days_to_limit_half_exchange, "days"));
  section.findings.push_back(open_ended("gel_for_visit_half_exchange_kg",
                                        say("label.box.gel_for_visit_half_exchange_kg"),
                                        f.gel_for_visit_half_exchange_kg, "kg"));
}

void add_box(CaseSection& section, const EnclosureForecast& f,
             const std::optional<ExchangeFit>& fit) {
  section.findings.push_back(
      fit ? noted(range_of("exchange_per_day", say("label.box.exchange_per_day"),
                           fit->exchange_per_day, fit->low_per_day, fit->high_per_day, "1/day"),
                  say("box.exchange.note", {{"readings", std::to_string(fit->readings)}}))
          : figure_of("exchange_per_day", say("label.box.exchange_per_day"),
                      f.enclosure.exchange_per_day, "1/day"));
  section.findings.push_back(
      open_ended("half_time_days", say("label.box.half_time_days"), f.half_time_days, "days"));
  section.findings.push_back(open_ended("buffered_half_time_days",
                                        say("label.box.buffered_half_time_days"),
                                        f.buffered_half_time_days, "days"));
}

CaseTable curve_table(const EnclosureForecast& f) {
  CaseTable table;
  table.title = say("box.curve.title");
  table.columns = {say("page.enclosure.column.days"), say("page.enclosure.column.rh")};
  const bool ranged = !f.low_rh_percent.empty();
  for (std::size_t k = 0; k <= kShownTimes; ++k) {
    const std::size_t i = k * (f.days.size() - 1) / kShownTimes;
    table.rows.push_back({format_number(f.days[i], 4),
                          range_text(f.rh_percent[i], ranged ? f.low_rh_percent[i] : kNotGiven,
                                     ranged ? f.high_rh_percent[i] : kNotGiven)});
  }
  return table;
}

std::string figure(double value) {
  if (std::isinf(value)) return say("word.never");
  return std::isnan(value) ? say("word.not_known") : format_number(value, 3);
}

CaseTable gels_table(const EnclosureForecast& f) {
  CaseTable table;
  table.title = say("box.gels.title");
  table.columns = {say("page.enclosure.column.gel"), say("page.enclosure.column.days_to_limit"),
                   say("page.enclosure.column.gel_kg")};
  for (const GelOutcome& gel : f.by_gel)
    table.rows.push_back({gel.id, figure(gel.days_to_limit), figure(gel.gel_for_visit_kg)});
  return table;
}

// The isotherms that the ranges run over.
void add_constants(CaseSection& section, const Review& review, const Dataset& dataset) {
  const std::string& named = review.forecast.enclosure.gel;
  for (const GelIsotherm& gel : gel_isotherms(dataset)) {
    if (!named.empty() && gel.id != named) continue;
    for (const Figure& one : dataset.figures) {
      if (one.id.starts_with(gel.id + ".")) section.figures.push_back(one.id);
    }
  }
}

std::string answer_of(const Review& review) {
  if (!review.summary.empty()) return review.summary;
  const EnclosureForecast& f = review.forecast;
  return say("box.answer.curve", {{"days", format_number(f.days.back(), 4)},
                                  {"rh_percent", figure(f.rh_percent.back())}});
}

void tell(CaseSection& section, const Review& review, const std::optional<ExchangeFit>& fit,
          const Dataset& dataset) {
  const EnclosureForecast& f = review.forecast;
  section.status = SectionStatus::answered;
  section.answer = answer_of(review);
  add_review(section, review);
  if (!std::isnan(f.options.limit_rh_percent)) add_forecast(section, f);
  add_box(section, f, fit);
  section.tables.push_back(curve_table(f));
  if (!f.by_gel.empty()) section.tables.push_back(gels_table(f));
  for (const std::string& one : f.assumptions) section.remarks.push_back(as_sentence(one));
  if (!f.message.empty()) section.warnings.push_back(as_sentence(f.message));
  if (f.status != Status::converged) section.status = SectionStatus::partly;
  if (f.options.exchange_relative_sd == EnclosureOptions{}.exchange_relative_sd) {
    section.status = SectionStatus::partly;
    section.missing.push_back(say("box.missing.spread"));
  }
  add_constants(section, review, dataset);
}

void follow_box(const CaseFile& file, const Dataset& dataset, const StoreAnswer& dry,
                BoxAnswer& answer) {
  Measured measured;
  try {
    measured = measured_of(file, dataset, dry);
  } catch (const FileError& problem) {
    mark_bad_input(answer.section, say("box.file_name"), problem.what());
    return;
  }
  answer.exchange = measured.exchange;
  if (answer.exchange && answer.exchange->status != Status::converged) {
    answer.section.status = SectionStatus::refused;
    answer.section.answer = as_sentence(answer.exchange->message);
    return;
  }
  answer.review = review_enclosure(dataset, request_of(file, dry, measured),
                                   has_record(dry) ? &*dry.record : nullptr,
                                   dry.assessment ? &*dry.assessment : nullptr);
  tell(answer.section, *answer.review, answer.exchange, dataset);
}

}  // namespace

BoxAnswer box_section(const CaseFile& file, const DatasetPointer& dataset, const StoreAnswer& dry) {
  BoxAnswer answer;
  answer.section = section_of("box");
  CaseSection& section = answer.section;
  section.missing = missing_of(file.store.enclosure, dry);
  if (!section.missing.empty()) {
    section.answer = say("box.answer.missing");
    return answer;
  }
  try {
    follow_box(file, *dataset, dry, answer);
  } catch (const InputError& problem) {
    refuse(file, problem);
  } catch (const UnknownName&) {
    std::vector<std::string> known;
    for (const GelIsotherm& gel : gel_isotherms(*dataset)) known.push_back(gel.id);
    refuse_name(file, "store.enclosure.gel", file.store.enclosure.box.gel, known);
  }
  return answer;
}

}  // namespace aeruca::detail
