#pragma once

// The results of `analysis`, described once: a solved water with where each element is and what
// each solid would need.

#include <string>
#include <utility>
#include <vector>

#include "aeruca/analysis.hpp"
#include "aeruca/speciation.hpp"
#include "base/text.hpp"
#include "render/describe_equilibrium.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<ChargeBalance> {
  static constexpr std::string_view name = "ChargeBalance";
  static constexpr std::string_view meaning =
      "Cations against anions of an analysis, in equivalents per kilogram of water.";
  using C = ChargeBalance;
  template <class Take>
  static void figures(Take take) {
    take("cations", &C::cations, "mol/kg", "cations", key("cations_eq_per_kg"));
    take("anions", &C::anions, "mol/kg", "anions", key("anions_eq_per_kg"));
    take("error_percent", &C::error_percent, "%", "their difference, of their sum", digits(2));
    take("assigned_mol_per_kg", &C::assigned_mol_per_kg, "mol/kg", "added to balance them",
         digits(3));
  }
};

template <>
struct Description<Conductivity> {
  static constexpr std::string_view name = "Conductivity";
  static constexpr std::string_view meaning = "A conductivity at 25 degrees C, of the ions found.";
  using C = Conductivity;
  template <class Take>
  static void figures(Take take) {
    take("us_per_cm", &C::us_per_cm, "uS/cm", "conductivity", digits(2));
    take("uncounted_percent", &C::uncounted_percent, "%", "of the charge, on ions without a figure",
         digits(2));
    take("said", &C::said, "", "how far it holds");
    take("figures", &C::figures, "", "constants used");
  }
  static std::string said(const C& c) {
    return std::isnan(c.us_per_cm) ? c.said : format_number(c.us_per_cm, 2) + " uS/cm";
  }
};

template <>
struct Description<ElementForm> {
  static constexpr std::string_view name = "ElementForm";
  static constexpr std::string_view meaning = "One form of an element, dissolved or solid.";
  using F = ElementForm;
  template <class Take>
  static void figures(Take take) {
    take("name", &F::name, "", "form");
    take("kind", &F::kind, "", "kind");
    take("percent", &F::percent, "%", "share of the element", digits(3));
    take("mol_per_kg", &F::mol_per_kg, "mol/kg", "amount of the form");
    take("log10_activity", &F::log10_activity, "", "log10 of its activity");
  }
  static std::string said(const F& form) {
    return form.name + " " + format_number(form.percent, 3) + " %";
  }
};

template <>
struct Description<ElementShares> {
  static constexpr std::string_view name = "ElementShares";
  static constexpr std::string_view meaning = "Where one element is.";
  static constexpr std::string_view keyed_by = "word";
  using E = ElementShares;
  template <class Take>
  static void figures(Take take) {
    take("word", &E::word, "", "element");
    take("component", &E::component, "", "counted as");
    take("mol_per_kg", &E::mol_per_kg, "mol/kg", "in all");
    take("percent", &percent, "%", "share of each form", digits(3));
    take("forms", &E::forms, "", "its forms", apart);
  }

 private:
  static std::vector<std::pair<std::string, double>> percent(const E& element) {
    std::vector<std::pair<std::string, double>> all;
    for (const ElementForm& form : element.forms) all.emplace_back(form.name, form.percent);
    return all;
  }
};

template <>
struct Description<SolidNeed> {
  static constexpr std::string_view name = "SolidNeed";
  static constexpr std::string_view meaning =
      "One solid against a water, and what it would need to form.";
  static constexpr std::string_view keyed_by = "name";
  using N = SolidNeed;
  template <class Take>
  static void figures(Take take) {
    take("name", &N::name, "", "solid");
    take("index", &N::index, "", "saturation index");
    take("formed_mol_per_kg", &N::formed_mol_per_kg, "mol/kg", "formed");
    take("allowed", &N::allowed, "", "allowed to form");
    take("slow_to_form", &N::slow_to_form, "", "why it is often left out");
    take("needs", &N::needs, "", "times the activity of one ingredient", digits(3));
  }
};

template <>
struct Description<Speciation> {
  static constexpr std::string_view name = "Speciation";
  static constexpr std::string_view meaning =
      "A water at equilibrium that answers its analysis; amounts per kilogram of water.";
  using S = Speciation;
  template <class Take>
  static void figures(Take take) {
    take(
        "activity_model", [](const S& s) { return s.solved.water.options.activity; }, "",
        "activity model");
    take(
        "temperature_c", [](const S& s) { return s.solved.water.options.temperature_c; },
        "degrees C", "temperature", digits(3));
    take(
        "result", [](const S& s) { return s.solved.result; }, "", "the water", apart);
    take("elements", &S::elements, "", "where each element is", keyed);
    take("solids", &S::solids, "", "solids, and what each would need to form", apart);
    figures_of_analysis(take);
  }
  static std::string said(const S& s) {
    return Description<EquilibriumResult>::said(s.solved.result);
  }

 private:
  template <class Take>
  static void figures_of_analysis(Take& take) {
    take(
        "totals_mol_per_kg", [](const S& s) { return s.solved.water.input.totals_mol_per_kg; },
        "mol/kg", "dissolved, by ingredient");
    take(
        "charge", [](const S& s) { return s.solved.charge; }, "", "balance of the charge");
    take(
        "charge_assigned_to", [](const S& s) { return s.solved.water.charge_assigned_to; }, "",
        "ion that takes up the imbalance");
    take(
        "alkalinity_mol_per_kg", [](const S& s) { return s.solved.alkalinity_mol_per_kg; },
        "mol/kg", "alkalinity");
    take(
        "conductivity", [](const S& s) { return s.solved.conductivity; }, "", "conductivity");
    take(
        "index_uncertainty", [](const S& s) { return s.solved.index_uncertainty; }, "",
        "standard uncertainty of each index", digits(2), key("saturation_index_uncertainty"));
    take(
        "potential",
        [](const S& s) { return s.solved.water.potential ? s.solved.water.potential->said : ""; },
        "", "the potential as read");
    take(
        "not_given", [](const S& s) { return s.solved.water.missing; }, "",
        "major ions that were not given, taken as absent");
    take(
        "below_limit", [](const S& s) { return s.solved.water.below_limit; }, "",
        "below their detection limit, taken as absent");
    take(
        "at_limit", [](const S& s) { return s.solved.water.at_limit; }, "",
        "below their detection limit and taken at it");
    take(
        "set_aside", [](const S& s) { return s.solved.water.set_aside; }, "",
        "left out, for their form hangs on a potential");
    take(
        "assumed", [](const S& s) { return s.solved.water.assumed; }, "", "assumed");
  }
};

}  // namespace aeruca::detail
