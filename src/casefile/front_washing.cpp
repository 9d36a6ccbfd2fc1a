#include "casefile/front_washing.hpp"

#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

constexpr double kMet = 0.95;  // chance from which a rule of stopping counts as met

void tell_extracted(const BathSummary& summary, SheetBox& box) {
  const double error = 2 * summary.total_error_mg;
  box.figure = range_in_unit(summary.total_mg, summary.total_mg - error,
                             summary.total_mg + error + summary.undetected_mg, "mg");
  box.figure_of = say("front.washing.out");
}

std::string left_words(const Range& left) {
  return range_in_unit(left.median, left.low, left.high, "mg");
}

// One range where the stories agree; else a range for each, and the figure is what came out.
void tell_left(const BathPosterior& posterior, const BathSummary& summary, SheetBox& box) {
  const std::string out = format_number(summary.total_mg, 3);
  if (posterior.bound_only) {
    box.figure =
        say("wash.open_range.at_most",
            {{"figure", range_in_unit(posterior.left_mg.high, kNotGiven, kNotGiven, "mg", 2)}});
    box.figure_of = say("front.washing.left");
    box.sentences.push_back(say("front.washing.out_so_far", {{"mg", out}}));
    return;
  }
  if (posterior.one_story) {
    box.figure = left_words(posterior.left_mg);
    box.figure_of = say("front.washing.left");
    box.sentences.push_back(say("front.washing.out_so_far", {{"mg", out}}));
    return;
  }
  std::vector<std::string> each;
  for (const BathStoryBelief& story : posterior.stories) each.push_back(left_words(story.left_mg));
  box.sentences.push_back(
      say("front.washing.stories", {{"left", join(each, say("front.washing.or"))}}));
}

std::string short_rule(const Figure& rule, const Dataset& dataset) {
  const std::string source = short_citation(dataset.source(rule.source));
  const std::string value = format_number(rule.value, 3);
  if (rule.quantity == "last bath")
    return say("front.rule.last_bath", {{"value", value}, {"source", source}});
  if (rule.quantity == "residue")
    return say("front.rule.residue", {{"value", value}, {"source", source}});
  if (rule.quantity == "nothing detected")
    return say("front.rule.nothing_detected", {{"source", source}});
  return say("front.rule.successive_change", {{"source", source}});
}

void tell_rules(const BathDecision& decision, const Dataset& dataset, SheetBox& box) {
  constexpr std::size_t kNamed = 2;
  std::vector<std::string> met;
  for (const EndpointVerdict& rule : decision.endpoints) {
    if (rule.figure.empty() || !rule.seen || !(rule.probability >= kMet)) continue;
    met.push_back(short_rule(dataset.figure(rule.figure), dataset));
  }
  if (met.empty()) {
    box.sentences.push_back(say("front.washing.no_rule"));
    return;
  }
  if (met.size() > kNamed) met.resize(kNamed);
  box.sentences.push_back(say("front.washing.rules", {{"rules", join(met, ", ")}}));
}

SheetTone tone_of(BathAdvice advice) {
  switch (advice) {
    case BathAdvice::enough:
      return SheetTone::calm;
    case BathAdvice::change:
    case BathAdvice::leave:
      return SheetTone::watch;
    case BathAdvice::cannot_tell:
      break;
  }
  return SheetTone::open;
}

std::string advice_words(BathAdvice advice) {
  switch (advice) {
    case BathAdvice::enough:
      return say("front.washing.enough");
    case BathAdvice::change:
      return say("front.washing.change");
    case BathAdvice::leave:
      return say("front.washing.leave");
    case BathAdvice::cannot_tell:
      break;
  }
  return say("front.washing.cannot_tell");
}

}  // namespace

void fill_washing(const CaseEvidence& evidence, const Dataset& dataset, SheetBox& box) {
  const WashAnswer& wash = evidence.wash;
  if (!wash.summary) {
    const bool unusable = wash.section.status == SectionStatus::bad_input;
    box.verdict = say(unusable ? "front.washing.unusable" : "front.washing.no_log");
    box.sentences.push_back(
        say(unusable ? "front.washing.unusable_why" : "front.washing.no_log_why"));
    return;
  }
  tell_extracted(*wash.summary, box);
  if (stops(evidence.file.object)) {
    box.tone = SheetTone::watch;
    box.verdict = say("front.washing.ask");
    box.sentences.push_back(say("front.washing.ask_why"));
    return;
  }
  if (!wash.decision || wash.decision->status != Status::converged) {
    box.verdict = say("front.washing.cannot_tell");
    box.sentences.push_back(say("front.washing.no_model"));
    return;
  }
  const BathDecision& decision = *wash.decision;
  box.tone = tone_of(decision.advice);
  box.verdict = advice_words(decision.advice);
  tell_left(decision.posterior, *wash.summary, box);
  tell_rules(decision, dataset, box);
  if (decision.advice != BathAdvice::enough)
    box.sentences.push_back(say("front.washing.low_reading"));
}

}  // namespace aeruca::detail
