#pragma once

// What a bath is and does, described once.

#include <cmath>
#include <string>

#include "aeruca/bath_recipe.hpp"
#include "aeruca/log_against_bath.hpp"
#include "base/text.hpp"
#include "render/describe_bath_making.hpp"
#include "render/describe_path.hpp"

namespace aeruca::detail {

template <>
struct Description<WithinRange> {
  static constexpr std::string_view name = "WithinRange";
  static constexpr std::string_view meaning = "A figure and where it may lie.";
  using W = WithinRange;
  template <class Take>
  static void figures(Take take) {
    take("value", known<&W::value>(), "", "value", digits(3));
    take("low", known<&W::low>(), "", "low end", digits(3));
    take("high", known<&W::high>(), "", "high end", digits(3));
  }
  static std::string said(const W& figure) {
    return format_number(figure.value, 3) + " (" + format_number(figure.low, 3) + " to " +
           format_number(figure.high, 3) + ")";
  }
  static bool nothing(const W& figure) {
    return std::isnan(figure.value) && std::isnan(figure.low);
  }
};

template <>
struct Description<BathPh> {
  static constexpr std::string_view name = "BathPh";
  static constexpr std::string_view meaning = "The pH in one state of a bath.";
  template <class Take>
  static void figures(Take take) {
    take("state", &BathPh::state, "", "fresh, covered or open");
    take("ph", &BathPh::ph, "", "pH");
    take("moved_mmol_per_l", &BathPh::moved_mmol_per_l, "mmol/L",
         "carbon dioxide taken up; negative: given off", digits(3));
  }
};

template <>
struct Description<CarriedOff> {
  static constexpr std::string_view name = "CarriedOff";
  static constexpr std::string_view meaning = "A metal that a bath holds over one of its solids.";
  using C = CarriedOff;
  template <class Take>
  static void figures(Take take) {
    take("metal", &C::metal, "", "metal");
    take("solid", &C::solid, "", "solid");
    take("air", &C::air, "", "air");
    take("main_form", &C::main_form, "", "most of it is");
    take("mg_per_l", &C::mg_per_l, "mg/L", "dissolved");
    take("mg", &C::mg, "mg", "in one filling");
    take("percent_of_mass", &C::percent_of_mass, "%", "of the mass of the object");
  }
};

template <>
struct Description<BathChemistry> {
  static constexpr std::string_view name = "BathChemistry";
  static constexpr std::string_view meaning = "What a bath is and does.";
  using B = BathChemistry;
  template <class Take>
  static void figures(Take take) {
    take("salt", &B::salt, "", "salt", at_a_glance);
    take("mol_per_l", &B::mol_per_l, "mol/L", "strength", at_a_glance);
    take("percent_w_v", &B::percent_w_v, "% w/v", "strength in percent");
    take("volume_l", &B::volume_l, "L", "one filling");
    take("temperature_c", &B::temperature_c, "degrees C", "temperature", digits(3));
    take("status", &B::status, "", "solved");
    take("message", &B::message, "", "what went wrong");
    take("form", &B::form, "", "form on the shelf");
    take("reagents", &B::reagents, "", "to weigh");
    take("dissolves", &B::dissolves, "", "whether so much dissolves");
    take("solubility_words", &B::solubility_words, "", "solubility");
    take("blank_mg_per_l", &B::blank_mg_per_l, "mg/L", "chloride before the object");
    take("blank_mg", &B::blank_mg, "mg", "the same in one filling");
    take("blank_lacks", &B::blank_lacks, "", "of which no chloride is known");
    take("ph", &B::ph, "", "pH");
    take("nantokite_g_per_l", &B::nantokite_g_per_l, "g/L", "nantokite in the bath", digits(3));
    take("nantokite", &B::nantokite, "", "what becomes of it");
    take("locked_percent", &B::locked_percent, "%", "of its chloride locked");
    take("carried_off", &B::carried_off, "", "metals carried off");
    take("read", &B::read, "", "in words", at_a_glance);
    take("left_out", &B::left_out, "", "what is not counted");
    take("warnings", &B::warnings, "", "what the reader must know besides");
    take("cautions", &B::cautions, "", "cautions");
    take("figures", &B::figures, "", "constants used");
  }
};

template <>
struct Description<LogDisagreement> {
  static constexpr std::string_view name = "LogDisagreement";
  static constexpr std::string_view meaning = "One bath of a log that is not as it should be.";
  using L = LogDisagreement;
  template <class Take>
  static void figures(Take take) {
    take("bath", &L::bath, "", "bath");
    take("of", &L::of, "", "pH or colour");
    take("logged", &L::logged, "", "as the log has it");
    take("sentence", &L::sentence, "", "in words");
  }
};

template <>
struct Description<LogAgainstBath> {
  static constexpr std::string_view name = "LogAgainstBath";
  static constexpr std::string_view meaning = "A log's pH and colour against the bath.";
  using L = LogAgainstBath;
  template <class Take>
  static void figures(Take take) {
    take("sentence", &L::sentence, "", "in words", at_a_glance);
    take("lowest_ph", known<&L::lowest_ph>(), "", "lowest pH expected", digits(3));
    take("highest_ph", known<&L::highest_ph>(), "", "highest pH expected", digits(3));
    take("compared_ph", &L::compared_ph, "", "pH readings");
    take("compared_colours", &L::compared_colours, "", "colours");
    take("disagreements", &L::disagreements, "", "disagree");
  }
};

}  // namespace aeruca::detail
