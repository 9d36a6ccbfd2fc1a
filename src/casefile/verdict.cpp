#include "casefile/verdict.hpp"

#include <algorithm>

#include "aeruca/logger.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

// Date of the last observation of a kind; empty if there is none. Dates sort as text.
std::string last_seen(const CaseFile& file, std::string_view kind) {
  std::string last;
  for (const CaseObservation& seen : file.observations) {
    if (seen.kind == kind)
      last = std::max(last, seen.date.empty() ? std::string("day not stated") : seen.date);
  }
  return last;
}

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
          "active from " + format_number(kActiveProbability) + ", else dormant from " +
              format_number(store.options.dormant_probability) +
              ", else borderline: what neither settles"};
}

// The probability speaks of the record and our rule; of the object it says nothing.
std::string meaning_of(const StoreAssessment& store) {
  const StoreOptions& o = store.options;
  const auto percent = [](double share) { return format_number(100 * share, 3) + " %"; };
  const std::string active = format_number(o.active_spell_h, 3) + " h on end, or " +
                             percent(o.active_share) + " of the time, above the band";
  const std::string dormant = "less than " + format_number(o.active_spell_h, 3) +
                              " h on end and less than " + percent(o.dormant_share) +
                              " of the time above its lower end";
  std::string text = "that the store record ";
  if (store.verdict == Verdict::active) text += "exceeded the rule (" + active;
  if (store.verdict == Verdict::dormant) text += "kept to the rule (" + dormant;
  return text +
         "; our own working rule), sensor error only: the spread of the published bands and the "
         "object itself are not in it";
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
    assessment.reason = "The store is moist enough to matter (" + store.reason +
                        "), but the silver nitrate test found no chloride in the grains that were "
                        "lifted; chloride deeper down would not show.";
    return;
  }
  assessment.verdict = store.verdict;
  assessment.probability = probability_of(store);
  assessment.odds = odds_of(store);
  if (!std::isnan(assessment.probability)) assessment.probability_of = meaning_of(store);
  assessment.reason =
      "As far as humidity decides: " + store.reason + (store.reason.ends_with('.') ? "" : ".");
  if (!chloride_shown(evidence)) assessment.reason += " Chloride in the object has not been shown.";
}

// A weighed entry, so that the list can be put in order of what each measurement would settle.
struct Wanted {
  int weight;
  NextMeasurement next;
};

void want_eye(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  const bool looked = !evidence.file.observations.empty();
  wanted.push_back(
      {looked ? 50 : 95,
       {"The spots under the microscope, with scale, photograph and date, again in some weeks",
        "only growth that is seen shows that decay is going on; no calculation can"}});
}

void want_store(const CaseEvidence& evidence, Verdict verdict, std::vector<Wanted>& wanted) {
  const CaseStore& store = evidence.file.store;
  if (!evidence.dry.assessment) {
    wanted.push_back({100,
                      {"Humidity and temperature beside the object, hourly, for a year",
                       "without a record nothing can be said of how dry it is kept"}});
    return;
  }
  if (std::isnan(store.sensor_accuracy_rh_percent) || verdict == Verdict::borderline) {
    wanted.push_back(
        {90,
         {"The logger against saturated potassium carbonate (43 % RH), on the threshold",
          "the verdict hangs on a few % RH of sensor error"}});
  }
  if (store.object_cooler_by_k == 0 && verdict != Verdict::active) {
    wanted.push_back({60,
                      {"The surface temperature of the object beside that of the air",
                       "an object 1 K cooler than air of 42 % RH sees about 45 % RH"}});
  }
  if (evidence.dry.assessment->coverage < 0.95) {
    wanted.push_back(
        {40,
         {"The months the logger missed",
          "the record covers " + format_number(100 * evidence.dry.assessment->coverage, 3) +
              " % of its period, and proves nothing about the rest"}});
  }
}

void want_chloride(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  const std::string& test = evidence.file.object.silver_nitrate_test;
  if (test.empty() || test == "not done") {
    wanted.push_back(
        {evidence.wash.summary ? 30 : 85,
         {"Silver nitrate on a few lifted grains",
          "it shows whether chloride is there; it does not show that decay is going on"}});
  }
}

void want_bath(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  if (!evidence.wash.summary) return;
  const BathSummary& summary = *evidence.wash.summary;
  const auto& baths = evidence.wash.log->baths;
  if (std::isnan(evidence.file.object.mass_g)) {
    wanted.push_back(
        {80, {"The mass of the object", "mg/L says nothing of an object of unknown mass"}});
  }
  if (!baths.empty() && baths.back().kind == ReadingKind::below_detection &&
      !std::isnan(summary.detection_mg)) {
    wanted.push_back({75,
                      {"Chloride by a method with a lower limit, or in a smaller bath",
                       "the last reading is below detection, and one such bath can hide " +
                           format_number(summary.detection_mg, 2) + " mg"}});
  }
  if (evidence.wash.fit && evidence.wash.fit->forecast == ForecastKind::refused) {
    wanted.push_back(
        {70,
         {"Two or three more baths of equal volume and length, each read above detection",
          "no end date can be carried by the readings so far"}});
  }
  const bool gap = std::any_of(baths.begin(), baths.end(), [](const BathRecord& bath) {
    return bath.kind == ReadingKind::not_measured;
  });
  if (gap) {
    wanted.push_back({35,
                      {"Any kept sample of the bath that was not measured",
                       "the sum taken out is a lower bound without it"}});
  }
}

void want_water(const CaseEvidence& evidence, std::vector<Wanted>& wanted) {
  for (const CaseWater& water : evidence.file.waters) {
    const std::string name = water.name.empty() ? "the water" : water.name;
    if (!water.analysis.ph.detected())
      wanted.push_back({65, {"pH of " + name, "no equilibrium can be worked out without it"}});
    if (!water.analysis.potential_mv && !water.analysis.oxygen_bar) {
      wanted.push_back({55,
                        {"Redox potential of " + name,
                         "it decides between the metal, cuprite and the copper(II) solids"}});
    }
    if (!water.analysis.reading_of("copper").given()) {
      wanted.push_back({20, {"Dissolved copper of " + name, "it turns stability into saturation"}});
    }
  }
}

// What the eye said last, for it outweighs the rest.
std::string last_observation(const CaseFile& file) {
  const auto last = std::max_element(
      file.observations.begin(), file.observations.end(),
      [](const CaseObservation& a, const CaseObservation& b) { return a.date < b.date; });
  return "Last seen " + (last->date.empty() ? std::string("(day not stated)") : last->date) + ": " +
         (last->kind.empty() ? "not described" : last->kind) + ".";
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

// A record that ends before the object was treated or looked at speaks of an earlier state.
std::string record_is_older(const CaseEvidence& evidence) {
  if (!evidence.dry.assessment || evidence.dry.assessment->readings == 0) return "";
  const std::string end = format_time(evidence.dry.assessment->end_s).substr(0, 10);
  std::vector<std::string> later;
  const std::string bath = day_of_last_bath(evidence);
  const std::string seen = day_last_seen(evidence.file);
  if (bath > end) later.push_back("the last bath (" + bath + ")");
  if (seen > end) later.push_back("the last observation (" + seen + ")");
  if (later.empty()) return "";
  return "The store record ends " + end + ", before " + join(later, " and ") +
         ": what decides lies before them, and nothing is known of the humidity since.";
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
    assessment.reason =
        "New growth was seen (" + growth + "); what is seen outweighs what is calculated.";
    return;
  }
  if (evidence.dry.assessment) {
    decide_by_store(evidence, *evidence.dry.assessment, assessment);
    return;
  }
  assessment.verdict = Verdict::not_known;
  if (evidence.dry.section.status == SectionStatus::bad_input) {
    assessment.reason =
        "The humidity record could not be used and no dated growth is given; green "
        "powder alone does not show that decay is going on.";
    return;
  }
  assessment.reason =
      "No humidity record and no dated growth are given; green powder alone does not show that "
      "decay is going on.";
}

std::vector<std::string> in_short(const CaseEvidence& evidence, const CaseAssessment& assessment) {
  std::vector<std::string> lines;
  if (assessment.ask_a_conservator) lines.push_back(stop_sentence(evidence.file.object));
  const std::string growth = last_seen(evidence.file, "new growth");
  if (!growth.empty() && assessment.verdict != Verdict::active) {
    lines.push_back("New growth was seen before the humidity record begins (" + growth + ").");
  }
  const std::string older = record_is_older(evidence);
  if (!older.empty()) lines.push_back(older);
  if (!evidence.file.observations.empty()) lines.push_back(last_observation(evidence.file));
  lines.insert(lines.end(), evidence.stable.in_short.begin(), evidence.stable.in_short.end());
  if (evidence.stable.in_short.empty() && evidence.stable.section.status != SectionStatus::missing)
    lines.push_back(first_sentence(evidence.stable.section.answer));
  if (evidence.dry.section.status == SectionStatus::bad_input)
    lines.push_back(evidence.dry.section.answer);
  if (evidence.wash.section.status != SectionStatus::missing)
    lines.push_back(evidence.wash.section.answer);
  if (!assessment.next.empty()) {
    lines.push_back("Measure next: " + assessment.next.front().what + ".");
  }
  lines.emplace_back(
      "This compares and checks; what is done is for the conservator, the owner and the local code "
      "to decide.");
  return lines;
}

std::vector<std::string> not_known(const CaseEvidence& evidence) {
  std::vector<std::string> unknown{
      "How fast anything goes: no rate of the reaction of cuprous chloride against humidity was "
      "found as numbers.",
      "At what depth the chloride lies, and how much of it is solid nantokite: no test above shows "
      "it."};
  for (const CaseSection* section : {&evidence.stable.section, &evidence.dry.section,
                                     &evidence.wash.section, &evidence.solution}) {
    if (section->status == SectionStatus::missing)
      unknown.push_back(section->title + ": " + section->answer);
    if (section->status == SectionStatus::no_answer || section->status == SectionStatus::bad_input)
      unknown.push_back(section->title + ": " + section->answer);
  }
  if (evidence.wash.fit && evidence.wash.fit->status == Status::converged) {
    unknown.emplace_back(
        "Whether the low readings are an empty layer or a solid reserve at its solubility.");
  }
  if (evidence.file.bath.solution.salt.find("carbonate") != std::string::npos) {
    unknown.emplace_back(
        "Whether sodium copper carbonate will form: its constant is not in the data set.");
  }
  return unknown;
}

std::vector<NextMeasurement> next_measurements(const CaseEvidence& evidence, Verdict verdict) {
  std::vector<Wanted> wanted;
  want_store(evidence, verdict, wanted);
  want_eye(evidence, wanted);
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
