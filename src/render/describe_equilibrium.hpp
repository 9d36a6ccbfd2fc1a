#pragma once

// The results of `equilibrium`, described once: an answer, its forms, its certificate.

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<Certificate> {
  static constexpr std::string_view name = "Certificate";
  static constexpr std::string_view meaning = "Proof that an answer is one.";
  using C = Certificate;
  template <class Take>
  static void figures(Take take) {
    take("holds", &C::holds, "", "every figure is within its bound", at_a_glance);
    take("mass_balance", &C::mass_balance, "", "largest error of a mass balance, relative",
         digits(2));
    take("charge_balance", &C::charge_balance, "", "error of the charge, relative", digits(2));
    take("supersaturation", &C::supersaturation, "", "supersaturation left, ln", digits(2));
    take("smallest_phase", &C::smallest_phase, "mol/kg", "smallest amount of a solid present",
         digits(3));
    take("duality_gap", &C::duality_gap, "", "gap of the convex problem, relative", digits(2));
    take("activity_error", &C::activity_error, "", "left by the activity model, ln", digits(2));
    take("stability", &C::stability, "",
         "stability of the solution, 1 where ideal; below 0 it would fall apart", digits(2));
    take("water_activity", &C::water_activity, "", "water activity", digits(3));
    take("iterations", &C::iterations, "", "iterations");
    take("starts", &C::starts, "", "starts from which an answer was sought");
    take("answers", &C::answers, "", "stable answers among them that differ");
    take("next_answer", &C::next_answer, "mol RT/kg",
         "Gibbs energy of the next answer above the one given", digits(3));
  }
  static std::string said(const C& c) {
    return std::string(c.holds() ? "holds" : "does not hold") + ", mass " +
           format_number(c.mass_balance, 2) + ", charge " + format_number(c.charge_balance, 2) +
           ", gap " + format_number(c.duality_gap, 2) + ", stability " +
           format_number(c.stability, 2) + ", " + std::to_string(c.iterations) + " iterations";
  }
};

/// One dissolved species of an answer.
struct DissolvedForm {
  std::string name;
  double molality_mol_per_kg = 0;
  double log10_molality = 0;
  double log10_activity = 0;
};

template <>
struct Description<DissolvedForm> {
  static constexpr std::string_view name = "DissolvedForm";
  static constexpr std::string_view meaning = "One dissolved species of an answer.";
  static constexpr std::string_view keyed_by = "name";
  using F = DissolvedForm;
  template <class Take>
  static void figures(Take take) {
    take("name", &F::name, "", "species");
    take("molality_mol_per_kg", &F::molality_mol_per_kg, "mol/kg", "molality");
    take("log10_molality", &F::log10_molality, "", "log10 of it");
    take("log10_activity", &F::log10_activity, "", "log10 of the activity");
  }
};

template <>
struct Description<EquilibriumResult> {
  static constexpr std::string_view name = "EquilibriumAnswer";
  static constexpr std::string_view meaning =
      "One water at equilibrium; amounts per kilogram of water.";
  using R = EquilibriumResult;
  template <class Take>
  static void figures(Take take) {
    take("status", &R::status, "", "solved");
    take("message", &R::message, "", "what went wrong");
    take("certificate", &R::certificate, "", "certificate");
    take("ph", &R::ph, "", "pH", digits(5), at_a_glance);
    take("pe", &R::pe, "", "pe", digits(4));
    take("eh_v", &R::eh_v, "V", "potential against the standard hydrogen electrode", at_a_glance);
    take("ionic_strength", &R::ionic_strength, "mol/kg", "ionic strength",
         key("ionic_strength_mol_per_kg"), at_a_glance);
    take("water_activity", &R::water_activity, "", "water activity", at_a_glance);
    take("solvent_kg", &R::solvent_kg, "kg",
         "water present per kilogram given; 1 unless its activity was held", digits(5));
    take("charge_mol_per_kg", &R::charge_mol_per_kg, "mol/kg",
         "charge left over, nonzero where the pH was given", digits(3));
    figures_by_species(take);
    take("degenerate", &R::degenerate, "", "solids that could stand for each other");
    take("warnings", &R::warnings, "", "what the reader must know besides");
    take("remarks", &R::remarks, "", "what the activity model assumes");
    take("estimated_heats", &R::estimated_heats, "",
         "what counts here by a constant that rests on an estimated heat");
    take("figures", &R::figures, "", "constants used");
  }
  static std::string said(const R& r) {
    if (!r.certificate.holds()) return std::string(to_string(r.status)) + ": " + r.message;
    return "pH " + format_number(r.ph, 5) + ", Eh " + format_number(r.eh_v, 3) +
           " V, ionic strength " + format_number(r.ionic_strength, 3) + " mol/kg";
  }

 private:
  template <class Take>
  static void figures_by_species(Take& take) {
    take("species", &R::species, "", "dissolved species", apart);
    take("molality", &R::molality, "mol/kg", "molality of each species", apart);
    take("log10_molality", &R::log10_molality, "", "log10 of it", apart);
    take("log10_activity", &R::log10_activity, "", "log10 of the activity of each", apart);
    take("dissolved", &forms, "", "dissolved", key("species"), keyed);
    take("allowed_solids", &R::allowed_solids, "", "solids that might have formed", apart);
    take("solid_mol_per_kg", &R::solid_mol_per_kg, "mol/kg", "amount of each of them", apart);
    take("solids_mol_per_kg", &solids, "mol/kg", "solids that might have formed");
    take("saturation_index", &R::saturation_index, "", "log10 of the saturation of every solid");
    take("gases", &R::gases, "", "gases", apart);
    take("log10_fugacity", &R::log10_fugacity, "", "log10 of the fugacity of each in bar", apart);
    take("log10_fugacity_bar", &gases, "", "log10 of the fugacity of each gas in bar");
  }
  static std::vector<DissolvedForm> forms(const R& r) {
    std::vector<DissolvedForm> all;
    for (std::size_t i = 0; i < r.species.size(); ++i)
      all.push_back({r.species[i], r.molality[i], r.log10_molality[i], r.log10_activity[i]});
    return all;
  }
  static std::map<std::string, double> together(const std::vector<std::string>& names,
                                                const std::vector<double>& values) {
    std::map<std::string, double> all;
    for (std::size_t i = 0; i < values.size(); ++i) all[names[i]] = values[i];
    return all;
  }
  static std::map<std::string, double> solids(const R& r) {
    return together(r.allowed_solids, r.solid_mol_per_kg);
  }
  static std::map<std::string, double> gases(const R& r) {
    return together(r.gases, r.log10_fugacity);
  }
};

}  // namespace aeruca::detail
