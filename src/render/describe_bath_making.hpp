#pragma once

// What `bath` says before a treatment, described once: what to weigh, the chemistry of the bath,
// what given baths would take out, and whether changing them is worth it.

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/bath_chemistry.hpp"
#include "aeruca/bath_forecast.hpp"
#include "aeruca/bath_meter.hpp"
#include "aeruca/bath_plan.hpp"
#include "aeruca/weigh_out.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<WeighedReagent> {
  static constexpr std::string_view name = "WeighedReagent";
  static constexpr std::string_view meaning = "One reagent to weigh.";
  using W = WeighedReagent;
  template <class Take>
  static void figures(Take take) {
    take("name", &W::name, "", "reagent");
    take("formula", &W::formula, "", "formula");
    take("grams", &W::grams, "g", "to weigh");
    take("molar_mass_g_per_mol", &W::molar_mass_g_per_mol, "g/mol", "molar mass", digits(6));
  }
  static std::string said(const W& reagent) {
    return format_number(reagent.grams) + " g " + reagent.name;
  }
};

template <>
struct Description<WeighOutTrap> {
  static constexpr std::string_view name = "WeighOutTrap";
  static constexpr std::string_view meaning = "A mistake people make, and what it would give.";
  template <class Take>
  static void figures(Take take) {
    take("mistake", &WeighOutTrap::mistake, "", "mistake");
    take("factor", &WeighOutTrap::factor, "", "strength got over the strength wanted", digits(3));
  }
};

template <>
struct Description<BathSolubility> {
  static constexpr std::string_view name = "BathSolubility";
  static constexpr std::string_view meaning = "How much of a bath salt water holds.";
  using S = BathSolubility;
  template <class Take>
  static void figures(Take take) {
    take("solid", &S::solid, "", "left undissolved");
    take("most_mol_per_l", known<&S::most_mol_per_l>(), "mol/L", "at most", digits(3));
    take("temperature_c", &temperature, "degrees C", "at", digits(3));
    take("source", &S::source, "", "source");
    take("note", &S::note, "", "what limits the figure");
  }

 private:
  static std::optional<double> temperature(const S& s) {
    return std::isnan(s.most_mol_per_l) ? std::nullopt : std::optional<double>(s.temperature_c);
  }
};

template <>
struct Description<WeighOut> {
  static constexpr std::string_view name = "WeighOut";
  static constexpr std::string_view meaning =
      "What to weigh for a bath, with the mistakes people make and cautions.";
  using W = WeighOut;
  template <class Take>
  static void figures(Take take) {
    take("salt", &W::salt, "", "salt");
    take("form", &W::form, "", "form on the shelf");
    take("reagents", &W::reagents, "", "to weigh");
    take("mol_per_l", &W::mol_per_l, "mol/L", "strength");
    take("percent_w_v", &W::percent_w_v, "% w/v", "strength in percent");
    take("sodium_mol_per_l", &W::sodium_mol_per_l, "mol/L", "sodium");
    take("blank_mg_per_l", &W::blank_mg_per_l, "mg/L", "chloride the reagents bring in", digits(3));
    take("traps", &traps, "", "mistakes, and the strength got over the strength wanted", digits(3),
         apart);
    take("mistakes", &W::traps, "", "mistakes people make", key("traps"));
    take("solubility", &W::solubility, "", "how much dissolves");
    take("cautions", &W::cautions, "", "cautions");
    take("dissolves", &W::dissolves, "", "dissolves");
    take("solubility_words", &W::solubility_words, "", "how much water holds");
  }
  static std::string said(const W& out) {
    std::vector<std::string> parts;
    for (const WeighedReagent& reagent : out.reagents)
      parts.push_back(Description<WeighedReagent>::said(reagent));
    return join(parts, ", ");
  }

 private:
  static std::vector<std::pair<std::string, double>> traps(const W& out) {
    std::vector<std::pair<std::string, double>> found;
    for (const WeighOutTrap& trap : out.traps) found.emplace_back(trap.mistake, trap.factor);
    return found;
  }
};

template <>
struct Description<CopperOverSolid> {
  static constexpr std::string_view name = "CopperOverSolid";
  static constexpr std::string_view meaning = "Copper that a solid lets into a bath.";
  using C = CopperOverSolid;
  template <class Take>
  static void figures(Take take) {
    take("solid", &C::solid, "", "solid", at_a_glance);
    take("air", &C::air, "", "air", at_a_glance);
    take("temperature_c", &C::temperature_c, "degrees C", "temperature", digits(3));
    take("status", &C::status, "", "solved");
    take("message", &C::message, "", "what went wrong");
    take("mg_per_l", &C::mg_per_l, "mg/L", "dissolved copper", digits(2), at_a_glance);
    take("factor", &C::factor, "", "it may be so many times more or less, by the constants",
         digits(2), at_a_glance);
    take("other_factor", &C::other_factor, "",
         "the most that another published constant changes it", digits(2));
    take("main_form", &C::main_form, "", "most of it is");
    take("warnings", &C::warnings, "", "what the reader must know besides");
    take("remarks", &C::remarks, "", "what the activity model assumes");
    take("estimated_heats", &C::estimated_heats, "",
         "what counts here by a constant that rests on an estimated heat");
    take("figures", &C::figures, "", "constants used");
  }
  static std::string said(const C& c) {
    if (std::isnan(c.mg_per_l)) return c.solid + ": " + c.message;
    return format_number(c.mg_per_l, 2) + " mg/L over " + c.solid + ", to a factor of " +
           format_number(c.factor, 2);
  }
};

template <>
struct Description<ForecastBath> {
  static constexpr std::string_view name = "ForecastBath";
  static constexpr std::string_view meaning = "The end of one bath of a forecast.";
  using B = ForecastBath;
  template <class Take>
  static void figures(Take take) {
    take("days", &B::days, "days", "length");
    take("volume_l", &B::volume_l, "L", "volume");
    take("tau_total", &B::tau_total, "", "reduced time since the first began", digits(3));
    take("alpha", &B::alpha, "", "volume over the body's capacity", digits(3));
    take("chloride_mg_per_l", &B::chloride_mg_per_l, "mg/L", "reading");
    take("in_bath_mg", &B::in_bath_mg, "mg", "bath holds");
    take("left_mg", &B::left_mg, "mg", "left inside");
    take("left_fraction", &B::left_fraction, "", "left inside, of the load");
  }
};

template <>
struct Description<BathForecast> {
  static constexpr std::string_view name = "BathForecast";
  static constexpr std::string_view meaning =
      "What given baths would take out, by diffusion alone.";
  using F = BathForecast;
  template <class Take>
  static void figures(Take take) {
    take(
        "shape", [](const F& f) { return f.body.shape; }, "", "shape");
    take(
        "load", [](const F& f) { return f.body.load; }, "", "chloride sits");
    take("rate_per_day", &F::rate_per_day, "1/day", "rate D/L^2");
    take("load_mg", &F::load_mg, "mg", "chloride inside at the start");
    take("truncation_error", &F::truncation_error, "", "bound of the series cut off", digits(2));
    take("error_mg", &F::error_mg, "mg", "amounts are right to, for this model", digits(2));
    take("baths", &F::baths, "", "baths");
  }
  static std::string said(const F& forecast) {
    if (forecast.baths.empty()) return "no bath";
    return std::to_string(forecast.baths.size()) + " baths, " +
           format_number(100 * forecast.baths.back().left_fraction, 3) + " % left inside";
  }
};

template <>
struct Description<BathPlan> {
  static constexpr std::string_view name = "BathPlan";
  static constexpr std::string_view meaning = "One way of dividing a treatment into baths.";
  template <class Take>
  static void figures(Take take) {
    take("baths", &BathPlan::baths, "", "baths");
    take("alpha", &BathPlan::alpha, "", "volume of each over the body's capacity");
    take("left", &BathPlan::left, "", "left inside, of the load", key("left_fraction"));
    take("equilibrium", &BathPlan::equilibrium, "", "in endless time", key("equilibrium_fraction"));
  }
};

template <>
struct Description<BathComparison> {
  static constexpr std::string_view name = "BathComparison";
  static constexpr std::string_view meaning = "Whether changing the bath is worth it.";
  using C = BathComparison;
  template <class Take>
  static void figures(Take take) {
    take("plans", &C::plans, "", "ways of dividing the treatment");
    take("endless_left", &C::endless_left, "", "left by endless fresh water in that time",
         key("endless_fresh_water_fraction"));
    take("gain", &C::gain, "", "the fewest baths leave so many times what the most leave",
         digits(3));
    take("finding", &C::finding, "", "in words", at_a_glance);
  }
  static std::string said(const C& comparison) { return comparison.finding; }
};

template <>
struct Description<MeterAnswer> {
  static constexpr std::string_view name = "MeterAnswer";
  static constexpr std::string_view meaning = "What a conductivity meter says of chloride.";
  using M = MeterAnswer;
  template <class Take>
  static void figures(Take take) {
    take("sentence", &M::sentence, "", "in words", at_a_glance);
    take("carries", &M::carries, "", "the meter says something of chloride");
    take("chloride_at_most_mg_per_l", known<&M::chloride_at_most_mg_per_l>(), "mg/L",
         "chloride, at most", digits(2));
    take("chloride_low_mg_per_l", known<&M::chloride_low_mg_per_l>(), "mg/L",
         "that bound, at its lowest", digits(2));
    take("chloride_high_mg_per_l", known<&M::chloride_high_mg_per_l>(), "mg/L",
         "that bound, at its highest: no more chloride than this", digits(2));
    take("floor_mg_per_l", known<&M::floor_mg_per_l>(), "mg/L", "as which the air alone would look",
         digits(2));
    take("bath_us_per_cm", known<&M::bath_us_per_cm>(), "uS/cm", "of the salt of the bath",
         digits(2));
    take("change_percent", known<&M::change_percent>(), "%", "of it by the chloride sought",
         digits(2));
    take("change_kelvin", known<&M::change_kelvin>(), "K", "warming that looks the same",
         digits(2));
  }
};

}  // namespace aeruca::detail
