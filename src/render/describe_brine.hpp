#pragma once

// The results of `brine`, described once: solutions of one salt, deliquescence, measured
// humidities.

#include <cmath>
#include <string>

#include "aeruca/brine.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

/// "75.29 +/- 0.20", with as many decimals as the uncertainty carries; "not known".
std::string with_uncertainty(double value, double uncertainty, int decimals);

template <>
struct Description<SaltSolution> {
  static constexpr std::string_view name = "SaltSolution";
  static constexpr std::string_view meaning =
      "A solution of one salt; molalities in mol/kg(water).";
  using S = SaltSolution;
  template <class Take>
  static void figures(Take take) {
    take("solid", &S::solid, "", "crystal");
    take("anhydrous", &S::anhydrous, "", "salt without its water", at_a_glance);
    take("molality", &S::molality, "mol/kg", "molality", key("molality_mol_per_kg"), at_a_glance);
    take("temperature_c", &S::temperature_c, "degrees C", "temperature", at_a_glance);
    take("ionic_strength", &S::ionic_strength, "mol/kg", "ionic strength", digits(5),
         key("ionic_strength_mol_per_kg"));
    take("osmotic_coefficient", &S::osmotic_coefficient, "", "osmotic coefficient", at_a_glance);
    take("osmotic_uncertainty", &S::osmotic_uncertainty, "", "its standard uncertainty", digits(2),
         at_a_glance);
    take("mean_activity_coefficient", &S::mean_activity_coefficient, "",
         "mean activity coefficient, molal", at_a_glance);
    take("water_activity", &S::water_activity, "", "water activity", at_a_glance);
    take("water_activity_uncertainty", &S::water_activity_uncertainty, "",
         "its standard uncertainty, from the osmotic coefficient alone", digits(2), at_a_glance);
    take("pitzer_set", &S::pitzer_set, "", "set of parameters");
    take("warnings", &S::warnings, "", "what the reader must know besides");
  }
  static std::string said(const S& s) {
    return s.anhydrous + ", " + format_number(s.molality) + " mol/kg at " +
           format_number(s.temperature_c) + " degrees C, water activity " +
           with_uncertainty(s.water_activity, s.water_activity_uncertainty, 4);
  }
};

template <>
struct Description<HumidityComparison> {
  static constexpr std::string_view name = "HumidityComparison";
  static constexpr std::string_view meaning = "A measured humidity beside the computed one.";
  using C = HumidityComparison;
  template <class Take>
  static void figures(Take take) {
    take(
        "rh_percent", [](const C& c) { return c.measured.rh_percent; }, "% RH", "measured");
    take(
        "uncertainty_percent", [](const C& c) { return c.measured.uncertainty_percent; }, "% RH",
        "standard uncertainty", digits(2));
    take(
        "temperature_c", [](const C& c) { return c.measured.temperature_c; }, "degrees C", "at",
        digits(3));
    take("difference_percent", &C::difference_percent, "% RH", "computed less measured", digits(2));
    take("disagrees", &C::disagrees, "", "they disagree");
    take(
        "doubtful", [](const C& c) { return c.measured.doubtful; }, "", "doubtful");
    take(
        "kind", [](const C& c) { return c.measured.kind; }, "", "kind");
    take(
        "source", [](const C& c) { return c.measured.source; }, "", "source");
    take(
        "basis", [](const C& c) { return c.measured.basis; }, "", "basis");
    take(
        "note", [](const C& c) { return c.measured.note; }, "", "note");
  }
};

template <>
struct Description<Deliquescence> {
  static constexpr std::string_view name = "Deliquescence";
  static constexpr std::string_view meaning =
      "Humidity above which one salt dissolves in water from the air.";
  using D = Deliquescence;
  template <class Take>
  static void figures(Take take) {
    take("salt", &D::salt, "", "salt");
    take("solid", &D::solid, "", "crystal", at_a_glance);
    take("temperature_c", &D::temperature_c, "degrees C", "temperature", at_a_glance);
    take("rh_percent", &D::rh_percent, "% RH", "computed", at_a_glance);
    take("rh_uncertainty_percent", &D::rh_uncertainty_percent, "% RH", "its standard uncertainty",
         digits(2), at_a_glance);
    take("uncertainty_from", &D::uncertainty_from, "", "how that was derived");
    take("basis", &D::basis, "", "rests on", at_a_glance);
    take("not_known_because", &D::not_known_because, "", "not known because");
    take("pitzer_set", &D::pitzer_set, "", "set of parameters");
    take("molality_measured", &D::molality_measured, "mol/kg", "saturated solution, measured",
         digits(5), key("saturation_molality_measured_mol_per_kg"));
    take("molality_from_constant", &D::molality_from_constant, "mol/kg",
         "saturated solution, from the constant", digits(5),
         key("saturation_molality_from_constant_mol_per_kg"));
    take("rh_from_constant_percent", &D::rh_from_constant_percent, "% RH",
         "humidity from the constant");
    take("humidity_in_fit", &D::humidity_in_fit, "", "measured humidity in the fit: no test");
    take(
        "independent_of_measured_humidity", [](const D& d) { return !d.humidity_in_fit; }, "",
        "the measured humidity tests the computed one");
    take("measured", &D::measured, "", "measured, the best first");
    take("warnings", &D::warnings, "", "what the reader must know besides");
    take("note", &D::note, "", "note of the entry");
    take("sources", &D::sources, "", "sources of the computed figure");
  }
  static std::string said(const D& d) {
    if (std::isnan(d.rh_percent))
      return d.solid + ", not known at " + format_number(d.temperature_c) +
             " degrees C: " + d.not_known_because;
    return d.solid + ", " + with_uncertainty(d.rh_percent, d.rh_uncertainty_percent, 2) +
           " % RH at " + format_number(d.temperature_c) + " degrees C" +
           (d.humidity_in_fit ? ", measured humidity in fit" : "");
  }
};

template <>
struct Description<MeasuredCurvePoint> {
  static constexpr std::string_view name = "MeasuredCurvePoint";
  static constexpr std::string_view meaning = "A humidity inside an evaluated table.";
  using P = MeasuredCurvePoint;
  template <class Take>
  static void figures(Take take) {
    take("rh_percent", &P::rh_percent, "% RH", "humidity", at_a_glance);
    take("uncertainty_percent", &P::uncertainty_percent, "% RH", "standard uncertainty", digits(2),
         at_a_glance);
    take("source", &P::source, "", "source", at_a_glance);
    take("temperature_min_c", &P::temperature_min_c, "degrees C", "table from");
    take("temperature_max_c", &P::temperature_max_c, "degrees C", "table to");
  }
  static std::string said(const P& point) {
    return format_number(point.rh_percent, 4) + " +/- " +
           format_number(point.uncertainty_percent, 2) + " % RH, " + point.source;
  }
};

template <>
struct Description<OnsetBand> {
  static constexpr std::string_view name = "OnsetBand";
  static constexpr std::string_view meaning = "A published humidity limit for bronze disease.";
  using B = OnsetBand;
  template <class Take>
  static void figures(Take take) {
    take("id", &B::id, "", "name");
    take("title", &B::title, "", "title");
    take("low_rh_percent", &B::low_rh_percent, "% RH", "low end");
    take("high_rh_percent", &B::high_rh_percent, "% RH", "high end");
    take("conditions", &B::conditions, "", "conditions");
    take("source", &B::source, "", "source");
    take("basis", &B::basis, "", "basis");
    take("chosen", &B::chosen, "", "used for verdicts");
    take("reason", &B::reason, "", "why chosen, or not");
    take("note", &B::note, "", "note");
  }
  static std::string said(const B& band) {
    return band.id + ", " + format_number(band.low_rh_percent) + " to " +
           (std::isnan(band.high_rh_percent) ? "not stated" : format_number(band.high_rh_percent)) +
           " % RH, " + band.source + (band.chosen ? ", chosen" : "");
  }
};

}  // namespace aeruca::detail
