#include <algorithm>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/bath_solution.hpp"
#include "casefile/case_workbook.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

ReadingErrors errors_of(const CaseBath& bath) {
  ReadingErrors errors;
  if (!std::isnan(bath.reading_error_percent)) errors.relative = bath.reading_error_percent / 100;
  if (!std::isnan(bath.volume_error_percent))
    errors.volume_relative = bath.volume_error_percent / 100;
  return errors;
}

BathFitOptions fit_options(const CaseFile& file) {
  const CaseBath& bath = file.bath;
  BathFitOptions options;
  options.body.shape = body_shape(bath.shape);
  options.body.load = initial_load(bath.load);
  options.errors = errors_of(bath);
  options.object_mass_g = file.object.mass_g;
  options.next_volume_l = bath.next_volume_l;
  options.next_days = bath.next_days;
  options.stop_mg_per_l = bath.stop_mg_per_l;
  return options;
}

BathDecisionOptions decision_options(const CaseFile& file) {
  const CaseBath& bath = file.bath;
  BathDecisionOptions options;
  options.inference.errors = errors_of(bath);
  options.inference.object_mass_g = file.object.mass_g;
  options.next_volume_l = bath.next_volume_l;
  options.next_days = bath.next_days;
  options.stop_mg_per_l = bath.stop_mg_per_l;
  options.target_left_mg = bath.target_left_mg_per_g * file.object.mass_g;
  return options;
}

std::string reading_text(const BathRecord& bath) {
  switch (bath.kind) {
    case ReadingKind::measured:
      return format_number(bath.chloride_mg_per_l, 3);
    case ReadingKind::below_detection:
      return "< " + format_number(bath.chloride_mg_per_l, 3);
    case ReadingKind::between:
      return between_text(bath.chloride_mg_per_l, bath.at_most_mg_per_l);
    case ReadingKind::not_measured:
      break;
  }
  return say("wash.reading.not_measured");
}

std::string extract_text(const BathRecord& bath, const BathExtract& extract) {
  if (bath.kind == ReadingKind::not_measured) return say("word.not_known");
  if (bath.kind == ReadingKind::below_detection)
    return say("wash.extract.at_most", {{"mg", format_number(extract.most_mg, 3)}});
  if (bath.kind == ReadingKind::between) return between_text(extract.mg, extract.most_mg);
  return plus_minus(extract.mg, extract.error_mg);
}

CaseTable log_table(const BathLog& log, const BathSummary& summary) {
  CaseTable table;
  table.title = say("wash.table.title");
  table.columns = {say("column.bath"),     say("column.from"),          say("column.days"),
                   say("column.litres"),   say("column.chloride_mg_l"), say("column.taken_out_mg"),
                   say("column.so_far_mg")};
  for (std::size_t i = 0; i < log.baths.size(); ++i) {
    const BathRecord& bath = log.baths[i];
    const BathExtract& extract = summary.baths[i];
    table.rows.push_back({std::to_string(i + 1), bath.start.substr(0, 10),
                          format_number(bath.days(), 3), format_number(bath.volume_l, 3),
                          reading_text(bath), extract_text(bath, extract),
                          format_number(extract.cumulative_mg, 3)});
  }
  const bool blanks_known =
      std::none_of(log.baths.begin(), log.baths.end(),
                   [](const BathRecord& bath) { return std::isnan(bath.blank_mg_per_l); });
  table.note = say("wash.table.note",
                   {{"blanks", std::string(blanks_known ? say("wash.table.blanks_known")
                                                        : say("wash.table.blanks_not_known"))}});
  return table;
}

void add_sums(CaseSection& section, const BathSummary& summary) {
  const double error = 2 * summary.total_error_mg;
  section.findings.push_back(
      noted(range_of("extracted_mg", say("label.wash.extracted_mg"), summary.total_mg,
                     summary.total_mg - error, summary.total_mg + error + summary.undetected_mg,
                     "mg chloride"),
            say("wash.extracted.note")));
  if (!std::isnan(summary.total_mg_per_g)) {
    section.findings.push_back(
        range_of("extracted_mg_per_g", say("label.wash.extracted_mg_per_g"), summary.total_mg_per_g,
                 summary.total_mg_per_g - 2 * summary.total_error_mg_per_g,
                 summary.total_mg_per_g + 2 * summary.total_error_mg_per_g, "mg/g"));
  }
  if (!std::isnan(summary.detection_mg)) {
    section.findings.push_back(noted(figure_of("detection_mg", say("label.wash.detection_mg"),
                                               summary.detection_mg, "mg chloride"),
                                     say("wash.detection.note")));
  }
}

void add_tail(CaseSection& section, const BathSummary& summary) {
  if (!std::isnan(summary.late_ratio)) {
    section.findings.push_back(noted(
        range_of("late_ratio", say("label.wash.late_ratio"), summary.late_ratio,
                 summary.late_ratio - 2 * summary.late_ratio_error,
                 summary.late_ratio + 2 * summary.late_ratio_error, "", 2),
        summary.ratio_steady ? say("wash.late_ratio.steady") : say("wash.late_ratio.not_steady")));
  }
  if (!std::isnan(summary.tail_mg)) {
    section.findings.push_back(
        noted(range_of("tail_mg", say("label.wash.tail_mg"), summary.tail_mg, summary.tail_low_mg,
                       summary.tail_high_mg, "mg chloride"),
              say("wash.tail.note")));
  }
  if (summary.slow_start) {
    section.remarks.emplace_back(say("wash.remark.slow_start"));
  }
}

CaseFinding of_range(std::string key, std::string label, const Range& range, std::string unit) {
  return range_of(std::move(key), std::move(label), range.median, range.low, range.high,
                  std::move(unit));
}

std::string story_words(const BathStoryBelief& story) {
  return say("bath.story." + std::string(story.story == BathStory::slow_part
                                             ? "slow_part"
                                             : to_string(story.story)));
}

std::string chance_words(double probability) {
  return format_number(std::round(100 * probability), 3) + " %";
}

// One range where the stories agree, an upper bound where hardly anything was read, else a range
// for each story: never one range for two.
void add_left(CaseSection& section, const BathPosterior& posterior) {
  if (posterior.bound_only) {
    CaseFinding left = of_range("left_mg", say("label.wash.left_mg"), posterior.left_mg, "mg");
    left.text = say(
        "wash.open_range.at_most",
        {{"figure", range_in_unit(posterior.left_mg.high, kNotGiven, kNotGiven, "mg chloride")}});
    section.findings.push_back(noted(std::move(left), say("wash.left.at_most_note")));
    return;
  }
  if (posterior.one_story) {
    section.findings.push_back(
        noted(of_range("left_mg", say("label.wash.left_mg"), posterior.left_mg, "mg chloride"),
              say("wash.left.note")));
    if (!std::isnan(posterior.left_mg_per_g.median)) {
      section.findings.push_back(of_range("left_mg_per_g", say("label.wash.left_mg_per_g"),
                                          posterior.left_mg_per_g, "mg/g"));
    }
    section.findings.push_back(of_range("share_out_percent", say("label.wash.share_out_percent"),
                                        posterior.share_out_percent, "%"));
    return;
  }
  for (const BathStoryBelief& story : posterior.stories) {
    section.findings.push_back(noted(
        of_range("left_mg." + std::string(to_string(story.story)),
                 say("label.wash.left_if",
                     {{"story", story_words(story)}, {"chance", chance_words(story.probability)}}),
                 story.left_mg, "mg chloride"),
        say("wash.left.note")));
  }
}

CaseTable endpoint_table(const BathDecision& decision) {
  CaseTable table;
  table.title = say("wash.endpoints.title");
  table.columns = {say("wash.endpoints.rule"), say("wash.endpoints.chance")};
  for (const EndpointVerdict& verdict : decision.endpoints) {
    table.rows.push_back({verdict.rule, std::isnan(verdict.probability)
                                            ? verdict.sentence
                                            : chance_words(verdict.probability)});
  }
  table.note = say("wash.endpoints.note");
  return table;
}

void add_decision(CaseSection& section, const BathDecision& decision) {
  add_left(section, decision.posterior);
  const BathChoice& now = decision.choices[1];
  section.findings.push_back(
      noted(of_range("gain_mg", say("wash.choice.gain"), now.gain_mg, "mg chloride"),
            say("wash.choice.note", {{"days", format_number(decision.considered_days, 3)},
                                     {"chance", chance_words(now.worth_while)}})));
  section.findings.push_back(
      noted(of_range("next_reading_mg_per_l", say("label.wash.next_reading_mg_per_l"),
                     decision.next_reading_mg_per_l, "mg/L"),
            say("wash.next_reading.note", {{"volume_l", format_number(decision.next_volume_l, 3)},
                                           {"days", format_number(decision.considered_days, 3)}})));
  section.tables.push_back(endpoint_table(decision));
  for (const EndpointVerdict& verdict : decision.endpoints) {
    if (!verdict.figure.empty()) add_new(section.figures, {verdict.figure});
  }
}

// Dates: until a reading falls below the user's level, by one model, and until what is left does.
void add_dates(CaseSection& section, const BathDecision& decision, const BathFit& fit) {
  const auto add = [&](const Range& days, const Range& baths) {
    section.findings.push_back(of_range("more_days", say("label.wash.more_days"), days, "days"));
    section.findings.push_back(
        of_range("more_baths", say("label.wash.more_baths"), baths, "baths"));
  };
  if (decision.forecast == ForecastKind::given) {
    add(decision.more_days, decision.more_baths);
  } else if (decision.forecast == ForecastKind::not_asked && fit.forecast == ForecastKind::given) {
    add(fit.more_days, fit.more_baths);
  }
}

// The layer thickness turns D/L^2 into a diffusion coefficient, which has a ceiling.
void add_diffusion(CaseSection& section, const CaseFile& file, const BathFit& fit,
                   const Dataset& dataset) {
  if (std::isnan(file.bath.layer_thickness_mm)) {
    section.missing.emplace_back(say("wash.missing.layer_thickness"));
    return;
  }
  const Figure& ceiling = dataset.figure("diffusion-chloride");
  const double square_m = std::pow(file.bath.layer_thickness_mm * 1e-3, 2);
  constexpr double kSecondsPerDay = 86400;
  const auto in_m2_per_s = [&](double per_day) { return per_day * square_m / kSecondsPerDay; };
  section.findings.push_back(
      noted(range_of("apparent_diffusion_m2_per_s", say("label.wash.apparent_diffusion_m2_per_s"),
                     in_m2_per_s(fit.rate_per_day.median), in_m2_per_s(fit.rate_per_day.low),
                     in_m2_per_s(fit.rate_per_day.high), "m2/s", 2),
            say("wash.diffusion.note", {{"value", format_number(ceiling.value)},
                                        {"unit", ceiling.unit},
                                        {"source", ceiling.source}})));
  add_new(section.figures, {ceiling.id});
}

std::string extracted_sentence(const BathSummary& summary) {
  const std::string mg = format_number(summary.total_mg, 3);
  const std::string baths = std::to_string(summary.baths.size());
  if (std::isnan(summary.total_mg_per_g))
    return say("wash.answer.extracted", {{"mg", mg}, {"baths", baths}});
  return say(
      "wash.answer.extracted_per_gram",
      {{"mg", mg}, {"baths", baths}, {"mg_per_g", format_number(summary.total_mg_per_g, 2)}});
}

// The fit by one model speaks only where the stories agree and nothing speaks against them.
bool one_model_serves(const BathDecision& decision, const BathFit& fit) {
  return fit.status == Status::converged && decision.posterior.one_story &&
         !decision.posterior.bound_only && decision.posterior.warnings.empty();
}

void answer_with_decision(CaseSection& section, const CaseBath& bath, const BathSummary& summary,
                          const BathDecision& decision, const BathFit& fit) {
  const BathPosterior& posterior = decision.posterior;
  section.answer = extracted_sentence(summary);
  if (posterior.one_story || posterior.bound_only) {
    const auto left =
        std::find_if(section.findings.begin(), section.findings.end(),
                     [](const CaseFinding& finding) { return finding.key == "left_mg"; });
    section.answer += say("wash.answer.left", {{"left", left->text}}) + " ";
  } else {
    for (const BathStoryBelief& story : posterior.stories) {
      section.answer +=
          say("wash.answer.story", {{"story", story_words(story)},
                                    {"chance", chance_words(story.probability)},
                                    {"left", range_in_unit(story.left_mg.median, story.left_mg.low,
                                                           story.left_mg.high, "mg chloride")}});
    }
  }
  section.answer += say("wash.answer.advice", {{"advice", as_sentence(decision.message)}});
  const bool level_asked = !std::isnan(bath.stop_mg_per_l);
  const bool serves = one_model_serves(decision, fit);
  const bool no_date = decision.forecast == ForecastKind::refused ||
                       (level_asked && (!serves || fit.forecast == ForecastKind::refused));
  section.status = no_date ? SectionStatus::refused : SectionStatus::answered;
  if (decision.forecast != ForecastKind::not_asked)
    section.answer += as_sentence(decision.forecast_reason);
  else if (level_asked)
    section.answer += serves || fit.forecast == ForecastKind::refused
                          ? as_sentence(fit.forecast_reason)
                          : say("wash.date.stories");
}

bool without_blank(const BathRecord& bath) {
  return std::isnan(bath.blank_mg_per_l);
}

// The chloride of the bath as made up stands for a blank that the log does not state; where the log
// states one, that is what the readings were taken against.
BathLog log_with_blank(const CaseFile& file, const Dataset& dataset, CaseSection& section) {
  constexpr double kDisagreement = 0.5;  // of the larger, with 1 mg/L left to reading
  BathLog log = bath_log_of(file);
  const BathBlank blank = blank_of_solution(with_full_names(file, dataset), dataset);
  const double made = blank.mg_per_l;
  if (std::isnan(made)) return log;
  if (!blank.lacking.empty() && std::any_of(log.baths.begin(), log.baths.end(), without_blank)) {
    add_new(section.warnings, {say("wash.warning.blank_in_part",
                                   {{"mg_per_l", format_number(made, 3)},
                                    {"lacking", join(blank.lacking, say("list.and"))}})});
  }
  for (const BathRecord& bath : log.baths) {
    const double stated = bath.blank_mg_per_l;
    if (!blank.lacking.empty() && !(made > stated)) continue;  // a part is no more than the whole
    if (!(std::abs(stated - made) > 1 + kDisagreement * std::max(stated, made))) continue;
    add_new(section.warnings,
            {say("wash.warning.blank_differs", {{"log_mg_per_l", format_number(stated, 3)},
                                                {"made_mg_per_l", format_number(made, 3)}})});
    break;
  }
  return with_blank(std::move(log), made);
}

void read_and_fit(const CaseFile& file, const Dataset& dataset, WashAnswer& answer) {
  CaseSection& section = answer.section;
  answer.errors = errors_of(file.bath);
  answer.summary = summarise_bath_log(*answer.log, file.object.mass_g, answer.errors);
  section.tables.push_back(log_table(*answer.log, *answer.summary));
  add_new(section.warnings, as_sentences(answer.log->warnings));
  add_new(section.warnings, as_sentences(answer.summary->warnings));
  add_sums(section, *answer.summary);
  add_tail(section, *answer.summary);
  if (std::isnan(file.object.mass_g)) {
    section.missing.emplace_back(say("wash.missing.mass"));
  }
  if (stops(file.object)) {
    section.status = SectionStatus::refused;
    section.answer = extracted_sentence(*answer.summary) + stop_sentence(file.object);
    return;
  }
  answer.decision = decide_bath(*answer.log, dataset, decision_options(file));
  const BathDecision& decision = *answer.decision;
  add_new(section.warnings, as_sentences(decision.posterior.warnings));
  add_new(section.warnings, as_sentences(decision.posterior.remarks));
  if (decision.status != Status::converged) {
    section.status =
        decision.posterior.models.empty() ? SectionStatus::refused : SectionStatus::no_answer;
    section.answer = extracted_sentence(*answer.summary) + as_sentence(decision.message);
    return;
  }
  const BathFit fit = fit_bath_log(*answer.log, fit_options(file));
  add_decision(section, decision);
  if (one_model_serves(decision, fit)) {
    answer.fit = fit;
    add_diffusion(section, file, fit, dataset);
    add_dates(section, decision, fit);
  }
  answer_with_decision(section, file.bath, *answer.summary, decision, fit);
}

}  // namespace

WashAnswer wash_section(const CaseFile& file, const DatasetPointer& dataset) {
  WashAnswer answer;
  answer.section = section_of("wash");
  CaseSection& section = answer.section;
  if (file.bath.log.empty()) {
    section.answer = say("wash.answer.no_log");
    section.missing.emplace_back(say("wash.missing.log"));
    return answer;
  }
  try {
    answer.log = log_with_blank(file, *dataset, section);
  } catch (const FileError& problem) {
    if (problem.field.starts_with("bath.solution")) throw;
    mark_bad_input(section, say("wash.log_name"), problem.what());
    return answer;
  }
  read_and_fit(file, *dataset, answer);
  section.remarks.emplace_back(say("wash.remark.low_reading"));
  if (file.bath.chloride_method.empty()) {
    section.missing.emplace_back(say("wash.missing.chloride_method"));
  }
  return answer;
}

}  // namespace aeruca::detail
