#pragma once

// What stays in the pores after rinsing, described once.

#include <cmath>
#include <string>

#include "aeruca/bath_rinse.hpp"
#include "base/number_text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<RinseLeft> {
  static constexpr std::string_view name = "RinseLeft";
  static constexpr std::string_view meaning = "What is left in the pores, of what they held first.";
  using L = RinseLeft;
  template <class Take>
  static void figures(Take take) {
    take("percent", known<&L::percent>(), "%", "left", digits(3));
    take("low_percent", known<&L::low_percent>(), "%", "with the least pore volume", digits(2));
    take("high_percent", known<&L::high_percent>(), "%", "with the most pore volume", digits(2));
  }
  static std::string said(const L& left) {
    const auto text = [](double percent) { return significant_text_above(1e-3, percent, 3); };
    return text(left.percent) + " % (" + text(left.low_percent) + " to " + text(left.high_percent) +
           ")";
  }
  static bool nothing(const L& left) { return std::isnan(left.percent); }
};

template <>
struct Description<RinseStep> {
  static constexpr std::string_view name = "RinseStep";
  static constexpr std::string_view meaning = "The end of one rinse.";
  using S = RinseStep;
  template <class Take>
  static void figures(Take take) {
    take("rinse", &S::rinse, "", "rinse");
    take("mixed", &S::mixed, "", "left if pores and rinse mix at once");
    take("diffusing", &S::diffusing, "", "left by diffusion");
    take("mixed_mg_per_l", &S::mixed_mg_per_l, "mg/L", "in pores and rinse, mixed", digits(3));
    take("rinse_mg_per_l", known<&S::rinse_mg_per_l>(), "mg/L", "the rinse reads, by diffusion",
         digits(3));
  }
};

template <>
struct Description<RinseResult> {
  static constexpr std::string_view name = "RinseResult";
  static constexpr std::string_view meaning = "What stays in the pores after rinsing.";
  using R = RinseResult;
  template <class Take>
  static void figures(Take take) {
    take("read", &R::read, "", "in words", at_a_glance);
    take("pore_ml", &R::pore_ml, "mL", "liquid in the pores");
    take("held_mg", &R::held_mg, "mg", "in the pores at first", digits(3));
    take("left_mg", &R::left_mg, "mg", "in the pores at the end", digits(3));
    take("floor_percent", &R::floor_percent, "%", "left after endless rinsing", digits(2));
    take("needed_mixed", &R::needed_mixed, "", "rinses to the target, mixed");
    take("needed_mixed_high", &R::needed_mixed_high, "", "the same with the most pore volume");
    take("needed_diffusing", &R::needed_diffusing, "", "rinses to the target, by diffusion");
    take("needed_diffusing_high", &R::needed_diffusing_high, "",
         "the same with the most pore volume");
    take("rinses", &R::rinses, "", "rinses");
    take("left_out", &R::left_out, "", "what is not counted");
  }
};

}  // namespace aeruca::detail
