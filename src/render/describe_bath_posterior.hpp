#pragma once

// The figures of a posterior over what may still be inside an object.

#include "aeruca/bath_posterior.hpp"
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
    take("warnings", &P::warnings, "", "what the reader must know besides");
  }
  static std::string said(const P& posterior) {
    return std::string(to_string(posterior.status)) + ": " + posterior.message;
  }
};

}  // namespace aeruca::detail
