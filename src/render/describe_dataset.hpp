#pragma once

// The records of the data set, described once.

#include <map>
#include <string>

#include "aeruca/dataset.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<Source> {
  static constexpr std::string_view name = "Source";
  static constexpr std::string_view meaning = "Where figures come from.";
  template <class Take>
  static void figures(Take take) {
    take("key", &Source::key, "", "key");
    take("text", &Source::text, "", "source");
    take("doi", &Source::doi, "", "doi");
  }
  static std::string said(const Source& source) { return source.key + ": " + source.text; }
};

template <>
struct Description<Figure> {
  static constexpr std::string_view name = "Figure";
  static constexpr std::string_view meaning =
      "One figure of the data set, with where it comes from.";
  template <class Take>
  static void figures(Take take) {
    take("id", &Figure::id, "", "name");
    take("subject", &Figure::subject, "", "of");
    take("quantity", &Figure::quantity, "", "quantity");
    take("value", &Figure::value, "", "value", digits(7));
    take("unit", &Figure::unit, "", "unit");
    take("uncertainty", &Figure::uncertainty, "", "standard uncertainty", digits(3));
    take("conditions", &Figure::conditions, "", "conditions");
    take("source", &Figure::source, "", "source");
    take("place", &Figure::place, "", "place in it");
    take("basis", &Figure::basis, "", "basis");
    take("chosen", &Figure::chosen, "", "used");
    take("reason", &Figure::reason, "", "why used, or not");
    take("note", &Figure::note, "", "note");
    take("file", &Figure::file, "", "file of the data set");
    take("line", &Figure::line, "", "its line");
  }
  static std::string said(const Figure& figure) {
    return figure.id + ", " + figure.subject + ", " + figure.quantity + " " + value_text(figure) +
           ", " + figure.source + ", " + std::string(to_string(figure.basis)) +
           (figure.chosen ? ", used" : "");
  }

  /// "9.56 +/- 0.14", with its unit; "no value".
  static std::string value_text(const Figure& figure) {
    if (std::isnan(figure.value)) return "no value";
    std::string text = format_number(figure.value, 7);
    if (!std::isnan(figure.uncertainty)) text += " +/- " + format_number(figure.uncertainty, 3);
    return figure.unit == "1" ? text : text + " " + figure.unit;
  }
};

template <>
struct Description<Species> {
  static constexpr std::string_view name = "Species";
  static constexpr std::string_view meaning =
      "A species or pure phase, its constant reduced to the component basis.";
  using S = Species;
  template <class Take>
  static void figures(Take take) {
    take("name", &S::name, "", "species", at_a_glance);
    take("formula", &S::formula, "", "formula");
    take("title", &S::title, "", "in words", at_a_glance);
    take("kind", &S::kind, "", "kind");
    take("charge", &S::charge, "", "charge");
    take("molar_mass_g_per_mol", &S::molar_mass_g_per_mol, "g/mol", "molar mass", digits(6));
    take("elements", &elements, "", "atoms in a formula");
    take("components", &S::components, "", "coefficients over the components of the data set",
         apart);
    take("log10_k", &S::log10_k, "", "log10 K of formation from the components, 25 degrees C",
         digits(5), at_a_glance);
    take("log10_k_uncertainty", &S::log10_k_uncertainty, "", "its standard uncertainty", digits(2),
         at_a_glance);
    take("enthalpy_kj_per_mol", &S::enthalpy_kj_per_mol, "kJ/mol", "enthalpy of that", digits(5));
    take("heat_capacity_j_per_mol_k", &S::heat_capacity_j_per_mol_k, "J/(mol K)",
         "heat capacity of that");
    take("density_g_per_cm3", &S::density_g_per_cm3, "g/cm3", "density");
    take("slow_to_form", &S::slow_to_form, "", "why it is often left out");
    take("colour", &S::colour, "", "colour of the mineral");
    take("figures", &S::figures, "", "constants it rests on");
    take("constant_terms", &S::constant_terms, "", "log10 K as a sum over figures");
  }
  static std::string said(const S& species) {
    return species.name + ", " + std::string(to_string(species.kind)) + ", log10 K " +
           format_number(species.log10_k, 5);
  }

 private:
  static std::map<std::string, double> elements(const S& species) {
    return {species.elements.begin(), species.elements.end()};
  }
};

template <>
struct Description<Salt> {
  static constexpr std::string_view name = "Salt";
  static constexpr std::string_view meaning =
      "A soluble salt: how it dissolves and how much of it does.";
  template <class Take>
  static void figures(Take take) {
    take("solid", &Salt::solid, "", "crystal", at_a_glance);
    take("formula", &Salt::formula, "", "formula", at_a_glance);
    take("anhydrous", &Salt::anhydrous, "", "salt without its water");
    take("ions", &Salt::ions, "", "ions of one formula");
    take("waters", &Salt::waters, "", "water set free by one formula");
    take("molar_mass_g_per_mol", &Salt::molar_mass_g_per_mol, "g/mol", "molar mass", digits(6));
    take("ln_k_25c", &Salt::ln_k_25c, "", "ln K of dissolution at 25 degrees C, on its scale",
         digits(5), at_a_glance);
    take("pitzer_set", &Salt::pitzer_set, "", "set of parameters it belongs to");
    take("solubility", &Salt::solubility, "",
         "temperature in degrees C, mol of anhydrous salt per kg water");
    take("dissolution_enthalpy_kj_per_mol", &Salt::dissolution_enthalpy_kj_per_mol, "kJ/mol",
         "enthalpy of dissolution, infinite dilution");
    take("density_g_per_cm3", &Salt::density_g_per_cm3, "g/cm3", "density");
    take("source", &Salt::source, "", "source");
    take("basis", &Salt::basis, "", "basis");
    take("humidity_in_fit", &Salt::humidity_in_fit, "",
         "its humidity was an input of the parameters");
    take("note", &Salt::note, "", "note");
  }
  static std::string said(const Salt& salt) {
    return salt.solid + ", " + salt.formula + ", ln K " + format_number(salt.ln_k_25c, 5);
  }
};

template <>
struct Description<MeasuredHumidity> {
  static constexpr std::string_view name = "MeasuredHumidity";
  static constexpr std::string_view meaning =
      "A deliquescence, hydration, mutual or crystallisation humidity from the literature.";
  using H = MeasuredHumidity;
  template <class Take>
  static void figures(Take take) {
    take("solid", &H::solid, "", "solid");
    take("equilibrium", &H::equilibrium, "", "equilibrium");
    take("kind", &H::kind, "", "kind");
    take("temperature_c", &H::temperature_c, "degrees C", "at", digits(3));
    take("rh_percent", &H::rh_percent, "% RH", "humidity");
    take("rh_high_percent", &H::rh_high_percent, "% RH", "upper end of a published range");
    take("uncertainty_percent", &H::uncertainty_percent, "% RH", "its standard uncertainty",
         digits(2));
    take("source", &H::source, "", "source");
    take("basis", &H::basis, "", "basis");
    take("note", &H::note, "", "note");
    take("doubtful", &H::doubtful, "", "superseded, biased or weak");
  }
  static std::string said(const H& humidity) {
    return humidity.solid + ", " + humidity.equilibrium + ", " +
           format_number(humidity.rh_percent, 4) + " % RH at " +
           format_number(humidity.temperature_c, 3) + " degrees C, " + humidity.kind;
  }
};

}  // namespace aeruca::detail
