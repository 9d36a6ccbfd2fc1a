#include "casefile/front_sheet.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/choice.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/front_washing.hpp"

namespace aeruca {
namespace {

constexpr std::array<std::string_view, 4> kToneWords{"calm", "watch", "alarm", "open"};

}  // namespace

std::string_view to_string(SheetTone tone) {
  return kToneWords[static_cast<std::size_t>(tone)];
}

namespace detail {
namespace {

SheetBox box_of(const std::string& id, const std::string& title, const std::string& section) {
  SheetBox box;
  box.id = id;
  box.title = title;
  box.section = section;
  return box;
}

SheetTone tone_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::dormant:
      return SheetTone::calm;
    case Verdict::borderline:
      return SheetTone::watch;
    case Verdict::active:
      return SheetTone::alarm;
    case Verdict::not_known:
      break;
  }
  return SheetTone::open;
}

// How much of the record lay above the end of the band that its verdict goes by.
std::string time_above(const StoreAssessment& store) {
  const double high = store.options.onset.high_rh_percent.front();
  const bool by_high = store.verdict == Verdict::active && !std::isnan(high);
  const TimeAbove& above = by_high ? store.above_high : store.above_low;
  const double limit = by_high ? high : store.options.onset.low_rh_percent.front();
  return say("front.active.time_above", {{"rh_percent", format_number(limit, 3)},
                                         {"percent", format_number(100 * above.share.as_read, 3)},
                                         {"hours", format_number(above.longest.hours, 3)}});
}

SheetBox active_box(const CaseEvidence& evidence, const CaseAssessment& assessment) {
  SheetBox box = box_of("active", say("front.active.title"), "dry");
  box.tone = tone_of(assessment.verdict);
  const bool by_store = !std::isnan(assessment.odds.dormant);
  const std::string word = verdict_word(assessment.verdict);
  box.verdict = by_store ? say("front.active.conditions", {{"verdict", word}}) : as_sentence(word);
  if (!by_store) box.verdict = without_stop(box.verdict);
  if (by_store) {
    // Of what is not settled the chance of the worse is told.
    const bool dormant = assessment.verdict == Verdict::dormant;
    box.figure = probability_text(dormant ? assessment.odds.dormant : assessment.odds.active);
    box.figure_of = say(dormant ? "front.active.chance_dormant" : "front.active.chance_active");
    box.sentences.push_back(time_above(*evidence.dry.assessment));
    box.sentences.push_back(say("front.active.air_only"));
  } else if (assessment.verdict == Verdict::active) {
    box.sentences.push_back(
        say("front.active.growth", {{"date", last_seen(evidence.file, "new growth")}}));
  } else if (evidence.dry.section.status == SectionStatus::bad_input) {
    box.sentences.push_back(say("front.active.unusable"));
  } else if (evidence.dry.assessment && evidence.file.object.silver_nitrate_test == "negative") {
    box.sentences.push_back(say("front.active.negative_test"));
  } else {
    box.sentences.push_back(say("front.active.nothing"));
  }
  if (by_store && !record_is_older(evidence).empty())
    box.sentences.push_back(say("front.active.older", {{"date", day_record_ends(evidence)}}));
  return box;
}

std::string band_words(const OnsetCurve& onset, const Dataset& dataset) {
  const double low = onset.low_rh_percent.front();
  const double high = onset.high_rh_percent.front();
  const std::string figures =
      low == high || std::isnan(high)
          ? format_number(low)
          : say("word.range", {{"low", format_number(low)}, {"high", format_number(high)}});
  if (onset.source.empty()) return say("front.keep.own_limit", {{"rh_percent", figures}});
  return say("front.keep.band",
             {{"rh_percent", figures}, {"source", short_citation(dataset.source(onset.source))}});
}

void add_gel(const CaseEvidence& evidence, SheetBox& box) {
  if (!evidence.box || !evidence.box->review) return;
  const EnclosureForecast& forecast = evidence.box->review->forecast;
  const DrawnFigure& gel = forecast.gel_for_visit_kg;
  if (!std::isfinite(gel.value)) return;
  box.sentences.push_back(
      say("front.keep.gel", {{"days", format_number(forecast.options.days, 3)},
                             {"mass", range_in_unit(gel.value, gel.low, gel.high, "kg", 2)}}));
}

SheetBox keep_box(const CaseEvidence& evidence, const Dataset& dataset) {
  SheetBox box = box_of("keep", say("front.keep.title"), "dry");
  const StoreOptions& options =
      evidence.dry.assessment ? evidence.dry.assessment->options : evidence.dry.options;
  const std::string band = band_words(options.onset, dataset);
  if (!evidence.dry.assessment || std::isnan(evidence.dry.assessment->set_point_rh_percent)) {
    box.verdict = say("front.keep.no_record");
    box.sentences = {band, say("front.keep.no_record_why")};
    add_gel(evidence, box);
    return box;
  }
  const StoreAssessment& store = *evidence.dry.assessment;
  const double shown = std::floor(store.set_point_rh_percent);
  if (!(shown > 0)) {
    box.tone = SheetTone::watch;
    box.verdict = say("front.keep.poor_sensor");
    box.sentences = {say("front.keep.poor_sensor_why"), band};
    return box;
  }
  const bool over = store.too_humid_by_rh_percent > 0;
  box.tone = over ? SheetTone::alarm : SheetTone::calm;
  box.verdict = say("front.keep.verdict");
  box.figure = say("front.keep.figure", {{"rh_percent", format_number(shown)}});
  box.figure_of = say("front.keep.figure_of");
  box.sentences = {say(over ? "front.keep.over" : "front.keep.under",
                       {{"rh_percent", format_number(std::abs(store.too_humid_by_rh_percent), 2)}}),
                   band};
  add_gel(evidence, box);
  return box;
}

bool gone_by(const std::string& date, const CaseAssessment& assessment) {
  return !date.empty() && !assessment.date.empty() && date < assessment.date;
}

void by_box(const Review& review, const CaseAssessment& assessment, SheetBox& box) {
  box.section = "box";
  const std::string limit = format_number(review.limit_rh_percent, 3);
  if (review.passed) {
    box.tone = SheetTone::alarm;
    box.verdict = say("front.again.now");
    box.sentences.push_back(say("front.again.passed", {{"rh_percent", limit}}));
    return;
  }
  const bool overdue = gone_by(review.review_date, assessment);
  box.tone = overdue ? SheetTone::alarm : SheetTone::watch;
  const std::string days = format_number(std::floor(review.review_days), 4);
  if (overdue) {
    box.verdict = say("front.again.overdue", {{"date", review.review_date}});
  } else {
    box.verdict = review.review_date.empty() ? say("front.again.within", {{"days", days}})
                                             : review.review_date;
  }
  box.figure = say("front.again.figure", {{"days", days}});
  box.figure_of = say("front.again.figure_of");
  if (review.days_unattended <= review.review_days) {
    box.sentences.push_back(say("front.again.one_in_twenty", {{"rh_percent", limit}}));
  } else {
    box.sentences.push_back(say("front.again.visit", {{"rh_percent", limit}}));
  }
}

SheetBox again_box(const CaseEvidence& evidence, const CaseAssessment& assessment) {
  SheetBox box = box_of("again", say("front.again.title"), "dry");
  const bool reviewed =
      evidence.box && evidence.box->review &&
      (evidence.box->review->passed || std::isfinite(evidence.box->review->review_days));
  const bool now = assessment.verdict == Verdict::active && record_is_older(evidence).empty();
  if (now) {
    box.tone = SheetTone::alarm;
    box.verdict = say("front.again.now");
    box.sentences.push_back(say("front.again.active"));
  } else if (reviewed) {
    by_box(*evidence.box->review, assessment, box);
  } else {
    box.verdict = say("front.again.no_date");
    box.sentences.push_back(say(evidence.box ? "front.again.box_open" : "front.again.no_box"));
  }
  box.sentences.push_back(say("front.again.look_for"));
  return box;
}

}  // namespace

FrontSheet front_sheet(const CaseEvidence& evidence, const CaseAssessment& assessment,
                       const Dataset& dataset) {
  constexpr std::size_t kMeasurements = 3;
  FrontSheet sheet;
  SheetBox washing = box_of("washing", say("front.washing.title"), "wash");
  fill_washing(evidence, dataset, washing);
  sheet.boxes = {active_box(evidence, assessment), keep_box(evidence, dataset), washing,
                 again_box(evidence, assessment)};
  for (const NextMeasurement& next : assessment.next) {
    if (sheet.measure.size() == kMeasurements) break;
    sheet.measure.push_back(next.what);
  }
  sheet.caution = say("front.caution");
  return sheet;
}

}  // namespace detail
}  // namespace aeruca
