#pragma once

// The results of draws of constants, described once: a water and how far its constants let it be
// known.

#include <string>

#include "aeruca/ranges.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<Spread> {
  static constexpr std::string_view name = "Spread";
  static constexpr std::string_view meaning = "Where the draws of one figure lie.";
  using P = Spread;
  template <class Take>
  static void figures(Take take) {
    take("percentile_2_5", &P::percentile_2_5, "", "2.5 % lie below");
    take("percentile_16", &P::percentile_16, "", "16 % lie below");
    take("median", &P::median, "", "half lie below");
    take("percentile_84", &P::percentile_84, "", "84 % lie below");
    take("percentile_97_5", &P::percentile_97_5, "", "97.5 % lie below");
  }
  static std::string said(const P& p) {
    return range_text(p.median, p.percentile_2_5, p.percentile_97_5);
  }
};

template <>
struct Description<DoubtCarrier> {
  static constexpr std::string_view name = "DoubtCarrier";
  static constexpr std::string_view meaning = "A constant that carries doubt of a figure.";
  using C = DoubtCarrier;
  template <class Take>
  static void figures(Take take) {
    take("figure", &C::figure, "", "constant");
    take("subject", &C::subject, "", "reaction it speaks of");
    take("share", &C::share, "", "share of the variance, squared linear correlation", digits(2));
    take("share_error", &C::share_error, "", "its standard error", digits(1));
    take("uncertainty", known<&C::uncertainty>(), "", "standard uncertainty as stated", digits(2));
    take("others", &C::others, "", "other published figures for it");
    take("source", &C::source, "", "source");
    take("basis", &C::basis, "", "basis");
  }
  static std::string said(const C& carrier) {
    return carrier.figure + " " + format_number(100 * carrier.share, 2) + " %";
  }
};

template <>
struct Description<FigureRange> {
  static constexpr std::string_view name = "FigureRange";
  static constexpr std::string_view meaning =
      "A figure of a water and how far the constants let it be known.";
  static constexpr std::string_view keyed_by = "name";
  using F = FigureRange;
  template <class Take>
  static void figures(Take take) {
    take("name", &F::name, "", "of");
    take("undrawn", &F::undrawn, "", "with the constants as they are");
    take("as_stated", &F::as_stated, "", "within their stated uncertainties");
    take("as_published", &F::as_published, "", "and with other published figures");
    take("carried_by", &F::carried_by, "", "carried by");
  }
  static std::string said(const F& range) {
    return format_number(range.undrawn, 4) + ", as stated " +
           Description<Spread>::said(range.as_stated) + ", as published " +
           Description<Spread>::said(range.as_published);
  }
};

template <>
struct Description<DrawnChance> {
  static constexpr std::string_view name = "DrawnChance";
  static constexpr std::string_view meaning = "A probability from draws, and its standard error.";
  using C = DrawnChance;
  template <class Take>
  static void figures(Take take) {
    take("probability", &C::probability, "", "probability", chance);
    take("standard_error", &C::standard_error, "", "its standard error", digits(1));
  }
};

template <>
struct Description<SolidChance> {
  static constexpr std::string_view name = "SolidChance";
  static constexpr std::string_view meaning = "How probable it is that a solid forms, or may.";
  static constexpr std::string_view keyed_by = "name";
  using C = SolidChance;
  template <class Take>
  static void figures(Take take) {
    take("name", &C::name, "", "solid");
    take("allowed", &C::allowed, "", "allowed to form");
    take("as_stated", &C::as_stated, "", "within the stated uncertainties");
    take("as_published", &C::as_published, "", "and with other published figures");
  }
};

template <>
struct Description<WaterRanges> {
  static constexpr std::string_view name = "WaterRanges";
  static constexpr std::string_view meaning =
      "A water and how far its constants let it be known; amounts per kilogram of water.";
  using W = WaterRanges;
  template <class Take>
  static void figures(Take take) {
    take("message", &W::message, "", "why there are none");
    take("draws", &W::draws, "", "draws of the constants", at_a_glance);
    take("seed", &W::seed, "", "seed of the draws");
    take("unanswered_as_stated", &W::unanswered_as_stated, "",
         "draws within the stated uncertainties that had no answer");
    take("unanswered_as_published", &W::unanswered_as_published, "",
         "draws with other published figures that had no answer");
    take("ph", &W::ph, "", "pH, where it follows from the charge");
    take("eh_v", &W::eh_v, "V", "potential, where it follows");
    take("ionic_strength", &W::ionic_strength, "mol/kg", "ionic strength",
         key("ionic_strength_mol_per_kg"));
    take("log10_dissolved", &W::log10_dissolved, "", "log10 of each element dissolved, mol/kg",
         keyed);
    take("log10_molality", &W::log10_molality, "", "log10 of each species, mol/kg", keyed);
    take("saturation_index", &W::saturation_index, "", "log10 of the saturation of each solid",
         keyed);
    take("solid_mol_per_kg", &W::solid_mol_per_kg, "", "solids that form, mol/kg", keyed);
    take("log10_fugacity", &W::log10_fugacity, "", "log10 of the fugacity of each gas, bar",
         key("log10_fugacity_bar"), keyed);
    take("solids", &W::solids, "", "probability of each solid", keyed);
    take("exact", &W::exact, "", "constants that count as exact, for they state no uncertainty");
  }
  static std::string said(const W& ranges) {
    return ranges.message.empty()
               ? std::to_string(ranges.draws) + " draws, seed " + std::to_string(ranges.seed)
               : ranges.message;
  }
};

}  // namespace aeruca::detail
