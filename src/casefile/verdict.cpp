#include "casefile/verdict.hpp"

#include <algorithm>

#include "aeruca/logger.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

std::string last_seen(const CaseFile& file, std::string_view kind) {
  std::string last;
  for (const CaseObservation& seen : file.observations) {
    if (seen.kind == kind)
      last = std::max(last,
                      seen.date.empty() ? std::string(say("summary.day_not_stated")) : seen.date);
  }
  return last;
}

namespace {

bool chloride_shown(const CaseEvidence& evidence) {
  if (evidence.file.object.silver_nitrate_test == "positive") return true;
  return evidence.wash.summary &&
         evidence.wash.summary->total_mg > 2 * evidence.wash.summary->total_error_mg;
}

// Borderline is what neither rule settles; the share of chances that lies between the two rules is
// no probability that it is right.
double probability_of(const StoreAssessment& store) {
  if (store.verdict == Verdict::dormant) return store.probability_dormant;
  return store.verdict == Verdict::active ? store.probability_active : kNotGiven;
}

StoreOdds odds_of(const StoreAssessment& store) {
  if (store.verdict == Verdict::not_known) return {};
  return {store.probability_dormant, store.probability_borderline, store.probability_active,
          say("odds.rule", {{"active", format_number(kActiveProbability)},
                            {"dormant", format_number(store.options.dormant_probability)}})};
}

// The probability speaks of the record and our rule; of the object it says nothing.
std::string meaning_of(const StoreAssessment& store) {
  const StoreOptions& o = store.options;
  const auto percent = [](double share) { return format_number(100 * share, 3); };
  const std::string hours = format_number(o.active_spell_h, 3);
  if (store.verdict == Verdict::active) {
    return say("probability.active", {{"hours", hours}, {"percent", percent(o.active_share)}});
  }
  return say("probability.dormant", {{"hours", hours}, {"percent", percent(o.dormant_share)}});
}

bool grown_since(const CaseEvidence& evidence, const std::string& growth) {
  if (growth.empty()) return false;
  if (!evidence.dry.assessment) return true;
  return growth >= format_time(evidence.dry.assessment->start_s).substr(0, 10);
}

void decide_by_store(const CaseEvidence& evidence, const StoreAssessment& store,
                     CaseAssessment& assessment) {
  const bool negative =
      evidence.file.object.silver_nitrate_test == "negative" && !chloride_shown(evidence);
  if (negative && store.verdict != Verdict::dormant) {
    assessment.verdict = Verdict::not_known;
    assessment.reason = say("reason.negative_test", {{"reason", store.reason}});
    return;
  }
  assessment.verdict = store.verdict;
  assessment.probability = probability_of(store);
  assessment.odds = odds_of(store);
  if (!std::isnan(assessment.probability)) assessment.probability_of = meaning_of(store);
  assessment.reason = say("reason.humidity", {{"reason", without_stop(store.reason)}});
  if (!chloride_shown(evidence)) assessment.reason += " " + say("reason.no_chloride");
}

// A weighed entry, so that the list can be put in order of what each measurement would settle.
struct Wanted {
  int weight;
  NextMeasurement next;
};

void want_eye(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  const bool looked = !evidence.file.observations.empty();
  wanted.push_back({looked ? 50 : 95, {say("next.eye.what"), say("next.eye.why")}});
}

void want_store(const CaseEvidence& evidence, Verdict verdict, std::vector<Wanted>& wanted) {
  const CaseStore& store = evidence.file.store;
  if (!evidence.dry.assessment) {
    wanted.push_back({100, {say("next.record.what"), say("next.record.why")}});
    return;
  }
  if (std::isnan(store.sensor_accuracy_rh_percent) || verdict == Verdict::borderline) {
    wanted.push_back({90, {say("next.logger.what"), say("next.logger.why")}});
  }
  if (store.object_cooler_by_k == 0 && verdict != Verdict::active) {
    wanted.push_back({60, {say("next.surface.what"), say("next.surface.why")}});
  }
  if (evidence.dry.assessment->coverage < 0.95) {
    wanted.push_back(
        {40,
         {say("next.months.what"),
          say("next.months.why",
              {{"percent", format_number(100 * evidence.dry.assessment->coverage, 3)}})}});
  }
}

void want_leakage(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  if (!evidence.box || evidence.box->exchange) return;
  if (!std::isnan(evidence.file.store.enclosure.exchange_uncertainty_percent)) return;
  wanted.push_back({58, {say("next.leakage.what"), say("next.leakage.why")}});
}

void want_chloride(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  const std::string& test = evidence.file.object.silver_nitrate_test;
  if (test.empty() || test == "not done") {
    wanted.push_back({evidence.wash.summary ? 30 : 85,
                      {say("next.silver_nitrate.what"), say("next.silver_nitrate.why")}});
  }
}

void want_bath(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  if (!evidence.wash.summary) return;
  const BathSummary& summary = *evidence.wash.summary;
  const auto& baths = evidence.wash.log->baths;
  if (std::isnan(evidence.file.object.mass_g)) {
    wanted.push_back({80, {say("next.mass.what"), say("next.mass.why")}});
  }
  if (!baths.empty() && baths.back().kind == ReadingKind::below_detection &&
      !std::isnan(summary.detection_mg)) {
    wanted.push_back(
        {75,
         {say("next.lower_limit.what"),
          say("next.lower_limit.why", {{"mg", format_number(summary.detection_mg, 2)}})}});
  }
  if (evidence.wash.section.status == SectionStatus::refused && evidence.wash.decision) {
    wanted.push_back({70, {say("next.more_baths.what"), say("next.more_baths.why")}});
  }
  if (evidence.wash.decision && !evidence.wash.decision->measurements.empty()) {
    constexpr double kWorthNaming = 10;  // percent
    const MeasurementValue& best = evidence.wash.decision->measurements.front();
    if (best.narrowing_percent >= kWorthNaming) {
      wanted.push_back(
          {72,
           {best.measurement, say("next.bath_reading.why",
                                  {{"percent", format_number(best.narrowing_percent, 2)}})}});
    }
  }
  const bool gap = std::any_of(baths.begin(), baths.end(), [](const BathRecord& bath) {
    return bath.kind == ReadingKind::not_measured;
  });
  if (gap) {
    wanted.push_back({35, {say("next.kept_sample.what"), say("next.kept_sample.why")}});
  }
}

void want_water(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  for (const CaseWater& water : evidence.file.waters) {
    const std::string name = water.name.empty() ? say("next.unnamed_water") : water.name;
    if (!water.analysis.ph.detected())
      wanted.push_back({65, {say("next.ph.what", {{"water", name}}), say("next.ph.why")}});
    if (!water.analysis.potential_mv && !water.analysis.oxygen_bar) {
      wanted.push_back(
          {55, {say("next.potential.what", {{"water", name}}), say("next.potential.why")}});
    }
    if (!water.analysis.reading_of("copper").given()) {
      wanted.push_back({20, {say("next.copper.what", {{"water", name}}), say("next.copper.why")}});
    }
  }
}

// What the eye said last, for it outweighs the rest.
std::string last_observation(const CaseFile& file) {
  const auto last = std::max_element(
      file.observations.begin(), file.observations.end(),
      [](const CaseObservation& a, const CaseObservation& b) { return a.date < b.date; });
  return say("summary.last_seen",
             {{"date", last->date.empty() ? say("summary.no_day") : last->date},
              {"kind", last->kind.empty() ? say("summary.no_kind") : last->kind}});
}

std::string day_of_last_bath(const CaseEvidence& evidence) {
  std::string last;
  if (!evidence.wash.log) return last;
  for (const BathRecord& bath : evidence.wash.log->baths) {
    last = std::max(last, (bath.end.empty() ? bath.start : bath.end).substr(0, 10));
  }
  return last;
}

std::string day_last_seen(const CaseFile& file) {
  std::string last;
  for (const CaseObservation& seen : file.observations) last = std::max(last, seen.date);
  return last;
}

// What was done to the object or seen on it after `day`, as parts of a sentence.
std::vector<std::string> after(const std::string& day, const CaseEvidence& evidence) {
  std::vector<std::string> later;
  const std::string bath = day_of_last_bath(evidence);
  const std::string seen = day_last_seen(evidence.file);
  if (bath > day) later.push_back(say("summary.last_bath", {{"date", bath}}));
  if (seen > day) later.push_back(say("summary.last_observation", {{"date", seen}}));
  return later;
}

}  // namespace

std::string day_record_ends(const CaseEvidence& evidence) {
  if (!evidence.dry.assessment || evidence.dry.assessment->readings == 0) return "";
  return format_time(evidence.dry.assessment->end_s).substr(0, 10);
}

std::string record_is_older(const CaseEvidence& evidence) {
  const std::string end = day_record_ends(evidence);
  if (end.empty()) return "";
  const std::vector<std::string> later = after(end, evidence);
  if (later.empty()) return "";
  return say("summary.record_older", {{"date", end}, {"later", join(later, say("list.and"))}});
}

namespace {

// What lies after the day of the assessment was not done yet: a slip, or a plan entered as done.
std::string not_yet(const CaseEvidence& evidence, const std::string& today) {
  if (today.empty()) return "";
  std::vector<std::string> later = after(today, evidence);
  const std::string end = day_record_ends(evidence);
  if (end > today) later.push_back(say("summary.end_of_record", {{"date", end}}));
  if (later.empty()) return "";
  return say("summary.not_yet", {{"date", today}, {"later", join(later, say("list.and"))}});
}

// When to look at the box again; a day that has gone by is said to have.
void add_box(const CaseEvidence& evidence, const CaseAssessment& assessment,
             std::vector<std::string>& lines) {
  if (!evidence.box) return;
  if (evidence.box->section.status == SectionStatus::bad_input)
    lines.push_back(evidence.box->section.answer);
  if (!evidence.box->review || evidence.box->review->summary.empty()) return;
  lines.push_back(evidence.box->review->summary);
  const std::string& date = evidence.box->review->review_date;
  if (!date.empty() && !assessment.date.empty() && date < assessment.date)
    lines.push_back(say("summary.review_overdue", {{"date", date}}));
}

std::string first_sentence(const std::string& text) {
  const std::size_t end = text.find(". ");
  return end == std::string::npos ? text : text.substr(0, end + 1);
}

}  // namespace

void decide(const CaseEvidence& evidence, CaseAssessment& assessment) {
  assessment.ask_a_conservator = stops(evidence.file.object);
  const std::string growth = last_seen(evidence.file, "new growth");
  if (grown_since(evidence, growth)) {
    assessment.verdict = Verdict::active;
    assessment.reason = say("reason.growth", {{"date", growth}});
    return;
  }
  if (evidence.dry.assessment) {
    decide_by_store(evidence, *evidence.dry.assessment, assessment);
    return;
  }
  assessment.verdict = Verdict::not_known;
  if (evidence.dry.section.status == SectionStatus::bad_input) {
    assessment.reason = say("reason.record_unusable");
    return;
  }
  assessment.reason = say("reason.nothing_given");
}

std::vector<std::string> in_short(const CaseEvidence& evidence, const CaseAssessment& assessment) {
  std::vector<std::string> lines;
  if (assessment.ask_a_conservator) lines.push_back(stop_sentence(evidence.file.object));
  const std::string growth = last_seen(evidence.file, "new growth");
  if (!growth.empty() && assessment.verdict != Verdict::active) {
    lines.push_back(say("summary.growth_before", {{"date", growth}}));
  }
  const std::string early = not_yet(evidence, assessment.date);
  if (!early.empty()) lines.push_back(early);
  const std::string older = record_is_older(evidence);
  if (!older.empty()) lines.push_back(older);
  if (!evidence.file.observations.empty()) lines.push_back(last_observation(evidence.file));
  lines.insert(lines.end(), evidence.stable.in_short.begin(), evidence.stable.in_short.end());
  if (evidence.stable.in_short.empty() && evidence.stable.section.status != SectionStatus::missing)
    lines.push_back(first_sentence(evidence.stable.section.answer));
  if (evidence.dry.section.status == SectionStatus::bad_input)
    lines.push_back(evidence.dry.section.answer);
  if (evidence.dry.assessment && !evidence.dry.assessment->set_point.empty())
    lines.push_back(evidence.dry.assessment->set_point);
  add_box(evidence, assessment, lines);
  if (evidence.wash.section.status != SectionStatus::missing)
    lines.push_back(evidence.wash.section.answer);
  if (!assessment.next.empty()) {
    lines.push_back(say("summary.next", {{"what", assessment.next.front().what}}));
  }
  lines.emplace_back(say("summary.decides"));
  return lines;
}

std::vector<std::string> not_known(const CaseEvidence& evidence) {
  std::vector<std::string> unknown{say("unknown.rate"), say("unknown.depth")};
  std::vector<const CaseSection*> sections{&evidence.stable.section, &evidence.dry.section,
                                           &evidence.wash.section, &evidence.solution};
  if (evidence.box) sections.insert(sections.begin() + 2, &evidence.box->section);
  for (const CaseSection* section : sections) {
    if (section->status == SectionStatus::missing)
      unknown.push_back(section->title + ": " + section->answer);
    if (section->status == SectionStatus::no_answer || section->status == SectionStatus::bad_input)
      unknown.push_back(section->title + ": " + section->answer);
  }
  if (evidence.wash.decision && evidence.wash.decision->status == Status::converged) {
    unknown.emplace_back(say("unknown.reserve"));
  }
  if (evidence.file.bath.solution.salt.find("carbonate") != std::string::npos) {
    unknown.emplace_back(say("unknown.sodium_copper_carbonate"));
  }
  return unknown;
}

std::vector<NextMeasurement> next_measurements(const CaseEvidence& evidence, Verdict verdict) {
  std::vector<Wanted> wanted;
  want_store(evidence, verdict, wanted);
  want_eye(evidence, wanted);
  want_leakage(evidence, wanted);
  want_chloride(evidence, wanted);
  want_bath(evidence, wanted);
  want_water(evidence, wanted);
  std::stable_sort(wanted.begin(), wanted.end(),
                   [](const Wanted& a, const Wanted& b) { return a.weight > b.weight; });
  std::vector<NextMeasurement> next;
  next.reserve(wanted.size());
  for (const Wanted& one : wanted) next.push_back(one.next);
  return next;
}

}  // namespace aeruca::detail
