#pragma once

// The figures of a posterior over what may still be inside an object.

#include "aeruca/bath_course.hpp"
#include "aeruca/bath_decision.hpp"
#include "aeruca/bath_posterior.hpp"
#include "aeruca/bath_schedule.hpp"
#include "render/describe_bath.hpp"

namespace aeruca::detail {

template <>
struct Description<BathDraw> {
  static constexpr std::string_view name = "BathDraw";
  static constexpr std::string_view meaning =
      "One body that may be the object, as likely as any other draw.";
  using D = BathDraw;
  template <class Take>
  static void figures(Take take) {
    take("model", &D::model, "", "way of release");
    take("load_mg", &D::load_mg, "mg", "inside at the start");
    take("left_mg", &D::left_mg, "mg", "still inside");
    take("rate_per_day", &D::rate_per_day, "1/day", "rate D/L^2");
    take("capacity_l", &D::capacity_l, "L", "bath that would hold as much as the body");
    take("first_extra", &D::first_extra, "", "first further unknown");
    take("second_extra", &D::second_extra, "", "second further unknown");
    take("scatter", &D::scatter, "", "relative error of readings");
  }
};

template <>
struct Description<BathModelBelief> {
  static constexpr std::string_view name = "BathModelBelief";
  static constexpr std::string_view meaning = "What the readings say of one way of release.";
  using M = BathModelBelief;
  template <class Take>
  static void figures(Take take) {
    take("model", &M::model, "", "way of release");
    take("probability", &M::probability, "", "probability", digits(2), at_a_glance);
    take("p_value", &M::p_value, "", "probability of a worse fit by chance", digits(2));
    take("refused", &M::refused, "", "left out: the readings contradict it");
    take("effective", &M::effective, "", "effective number of draws", digits(3));
    take("log_evidence", &M::log_evidence, "", "ln of the mean likelihood", digits(4));
    take("left_mg", &M::left_mg, "mg", "still inside, median (5 to 95 %)");
    take("share_out_percent", &M::share_out_percent, "%", "share out");
  }
};

template <>
struct Description<BathStoryBelief> {
  static constexpr std::string_view name = "BathStoryBelief";
  static constexpr std::string_view meaning =
      "What is inside if one story of the release is true; ranges are 5-95 %.";
  using B = BathStoryBelief;
  template <class Take>
  static void figures(Take take) {
    take("story", &B::story, "", "story");
    take("probability", &B::probability, "", "probability", digits(2), at_a_glance);
    take("left_mg", &B::left_mg, "mg", "still inside, median (5 to 95 %)", at_a_glance);
    take("share_out_percent", &B::share_out_percent, "%", "share out", at_a_glance);
    take("sentence", &B::sentence, "", "in words");
  }
};

template <>
struct Description<BathPosterior> {
  static constexpr std::string_view name = "BathPosterior";
  static constexpr std::string_view meaning =
      "What may still be inside, over several ways of release; ranges are 5-95 %.";
  using P = BathPosterior;
  template <class Take>
  static void figures(Take take) {
    take("status", &P::status, "", "answer");
    take("message", &P::message, "", "in words", at_a_glance);
    take("one_story", &P::one_story, "", "one range serves all stories");
    take("bound_only", &P::bound_only, "", "only an upper bound is known");
    take("load_mg", &P::load_mg, "mg", "inside at the start, median (5 to 95 %)", at_a_glance);
    take("left_mg", &P::left_mg, "mg", "still inside", at_a_glance);
    take("left_mg_per_g", &P::left_mg_per_g, "mg/g", "per gram of object");
    take("left_mg_per_cm2", &P::left_mg_per_cm2, "mg/cm2", "per area of object");
    take("share_out_percent", &P::share_out_percent, "%", "share out", at_a_glance);
    take("stories", &P::stories, "", "stories that the readings allow");
    take("models", &P::models, "", "ways of release");
    take("readings_mg_per_l", &P::readings_mg_per_l, "mg/L", "true reading of each bath", apart);
    take("draws", &P::draws, "", "equally likely bodies", apart);
    take("effective", &P::effective, "", "effective number of draws", digits(3));
    take("prior_share", &P::prior_share, "", "spread of the load over that held possible before",
         digits(2));
    take("warnings", &P::warnings, "", "why the models are to be doubted");
    take("remarks", &P::remarks, "", "what the reader must know besides");
  }
  static std::string said(const P& posterior) {
    return std::string(to_string(posterior.status)) + ": " + posterior.message;
  }
};

template <>
struct Description<LeftChance> {
  static constexpr std::string_view name = "LeftChance";
  static constexpr std::string_view meaning =
      "How likely it is that no more than a share of the first load is left.";
  template <class Take>
  static void figures(Take take) {
    take("share_percent", &LeftChance::share_percent, "%", "share of the first load");
    take("probability", &LeftChance::probability, "", "probability", digits(2));
  }
};

template <>
struct Description<BathChoice> {
  static constexpr std::string_view name = "BathChoice";
  static constexpr std::string_view meaning = "What one choice leaves inside; ranges are 5-95 %.";
  using C = BathChoice;
  template <class Take>
  static void figures(Take take) {
    take("choice", &C::choice, "", "choice");
    take("left_mg", &C::left_mg, "mg", "left at the end of the time considered");
    take("gain_mg", &C::gain_mg, "mg", "less than with the bath left as it is");
    take("worth_while", &C::worth_while, "", "probability that it takes a twentieth more",
         digits(2));
  }
};

template <>
struct Description<EndpointVerdict> {
  static constexpr std::string_view name = "EndpointVerdict";
  static constexpr std::string_view meaning =
      "A published rule of stopping, and whether it is met.";
  using V = EndpointVerdict;
  template <class Take>
  static void figures(Take take) {
    take("rule", &V::rule, "", "rule");
    take("figure", &V::figure, "", "figure of the data set");
    take("made_for", &V::made_for, "", "made for");
    take("seen", &V::seen, "", "this method can see it");
    take("probability", known<&V::probability>(), "", "probability that it is met", digits(2));
    take("sentence", &V::sentence, "", "in words");
  }
};

template <>
struct Description<MeasurementValue> {
  static constexpr std::string_view name = "MeasurementValue";
  static constexpr std::string_view meaning = "What a reading that could be made would tell.";
  using M = MeasurementValue;
  template <class Take>
  static void figures(Take take) {
    take("measurement", &M::measurement, "", "measurement");
    take("narrowing_percent", &M::narrowing_percent, "%", "expected narrowing of what is left",
         digits(2));
  }
};

template <>
struct Description<BathDecision> {
  static constexpr std::string_view name = "BathDecision";
  static constexpr std::string_view meaning =
      "What to do with a bath, on the bodies that fit its log; ranges are 5-95 %.";
  using D = BathDecision;
  template <class Take>
  static void figures(Take take) {
    take("status", &D::status, "", "answer");
    take("message", &D::message, "", "in words", at_a_glance);
    take("advice", &D::advice, "", "advice", at_a_glance);
    take("posterior", &D::posterior, "", "what may be inside");
    take("out_mg", &D::out_mg, "mg", "taken out, median (5 to 95 %)", at_a_glance);
    take("left_chances", &D::left_chances, "", "chance that no more is left");
    take("next_volume_l", &D::next_volume_l, "L", "volume of the fresh bath considered");
    take("considered_days", &D::considered_days, "days", "time over which choices are compared");
    take("choices", &D::choices, "", "choices");
    take("days_saved", &D::days_saved, "days", "that the old bath needs longer for as much");
    take("next_reading_mg_per_l", &D::next_reading_mg_per_l, "mg/L",
         "next reading, of a fresh bath over that time");
    take("endpoints", &D::endpoints, "", "published rules of stopping");
    take("hidden_mg", known<&D::hidden_mg>(), "mg",
         "95 %: left inside while the next bath shows nothing", digits(3));
    take("detection_limit_mg_per_l", known<&D::detection_limit_mg_per_l>(), "mg/L",
         "limit of the method");
    take("target_left_mg", known<&D::target_left_mg>(), "mg", "target for what is left");
    take("target_probability", known<&D::target_probability>(), "",
         "probability that what is left is below it", digits(2));
    take("forecast", &D::forecast, "", "forecast");
    take("forecast_reason", &D::forecast_reason, "", "because");
    take("more_baths", &D::more_baths, "", "baths until then");
    take("more_days", &D::more_days, "days", "days until then");
    take("measurements", &D::measurements, "", "measurements, the most telling first");
  }
  static std::string said(const D& decision) {
    return std::string(to_string(decision.status)) + ": " + decision.message;
  }
};

template <>
struct Description<BathCoursePoint> {
  static constexpr std::string_view name = "BathCoursePoint";
  static constexpr std::string_view meaning = "One moment of the baths; ranges are 5-95 %.";
  using P = BathCoursePoint;
  template <class Take>
  static void figures(Take take) {
    take("day", &P::day, "days", "since 1970-01-01");
    take("bath", &P::bath, "", "position of the bath, from 0");
    take("to_come", &P::to_come, "", "not made yet");
    take("reading_mg_per_l", &P::reading_mg_per_l, "mg/L", "concentration");
    take("out_mg", &P::out_mg, "mg", "taken out so far");
    take("left_mg", &P::left_mg, "mg", "left inside");
  }
};

template <>
struct Description<BathScheme> {
  static constexpr std::string_view name = "BathScheme";
  static constexpr std::string_view meaning = "Baths to come and what they leave inside.";
  using S = BathScheme;
  template <class Take>
  static void figures(Take take) {
    take("days", &S::days, "days", "length of each bath", digits(3));
    take("bath_l", &S::bath_l, "L", "volume of each bath", digits(3));
    take("water_l", &S::water_l, "L", "volume of all", digits(3));
    take("total_days", &S::total_days, "days", "time of all", digits(3));
    take("left_mg", &S::left_mg, "mg", "left at the end, median (5 to 95 %)");
    take("below_target", known<&S::below_target>(), "", "probability of less than the target",
         digits(2));
  }
};

template <>
struct Description<BathSchedule> {
  static constexpr std::string_view name = "BathSchedule";
  static constexpr std::string_view meaning = "How to spend time and water on further baths.";
  using S = BathSchedule;
  template <class Take>
  static void figures(Take take) {
    take("status", &S::status, "", "answer");
    take("message", &S::message, "", "in words", at_a_glance);
    take("equal", &S::equal, "", "baths of equal length");
    take("best", &S::best, "", "changed at the best times");
    take("diffusion_speed", &S::diffusion_speed, "",
         "diffusion in the baths to come over that in the last one", digits(3));
    take("gain_of_timing_percent", &S::gain_of_timing_percent, "%",
         "less left than with as many equal baths", digits(2));
    take("least_time", &S::least_time, "", "shortest that reaches the target in 95 %");
    take("least_water", &S::least_water, "", "least water that reaches the target in 95 %");
    take("remarks", &S::remarks, "", "what the reader must know besides");
  }
  static std::string said(const S& schedule) {
    return std::string(to_string(schedule.status)) + ": " + schedule.message;
  }
};

}  // namespace aeruca::detail
