#pragma once

// Reaction paths and the ready-made ones, described once.

#include <string>

#include "aeruca/ready_paths.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<PathEvent> {
  static constexpr std::string_view name = "PathEvent";
  static constexpr std::string_view meaning = "Where something changes along a path.";
  template <class Take>
  static void figures(Take take) {
    take("change", &PathEvent::change, "", "what happens");
    take("solid", &PathEvent::solid, "", "to");
    take("progress", &PathEvent::progress, "", "at a progress of", digits(6));
    take("within", &PathEvent::within, "", "it lies so far before at most", digits(2));
    take("ph", &PathEvent::ph, "", "pH");
    take("eh_v", &PathEvent::eh_v, "V", "Eh");
  }
};

template <>
struct Description<PathAmount> {
  static constexpr std::string_view name = "PathAmount";
  static constexpr std::string_view meaning = "An amount at every point of a path.";
  static constexpr std::string_view keyed_by = "name";
  template <class Take>
  static void figures(Take take) {
    take("name", &PathAmount::name, "", "of");
    take("mol_per_kg", &PathAmount::mol_per_kg, "mol/kg", "by point");
  }
};

template <>
struct Description<PathResult> {
  static constexpr std::string_view name = "PathResult";
  static constexpr std::string_view meaning = "What forms, and where, along a path.";
  using P = PathResult;
  template <class Take>
  static void figures(Take take) {
    take("kind", &P::kind, "", "kind of path", at_a_glance);
    take("unit", &P::unit, "", "unit of the progress");
    take("status", &P::status, "", "how it ended", at_a_glance);
    take("message", &P::message, "", "why it ended early", at_a_glance);
    take("events", &P::events, "", "events", at_a_glance);
    take("progress", &P::progress, "", "progress by point");
    take("ph", &P::ph, "", "pH by point");
    take("eh_v", &P::eh_v, "V", "Eh by point");
    take("ionic_strength", &P::ionic_strength, "mol/kg", "ionic strength by point");
    take("water_activity", &P::water_activity, "", "water activity by point");
    take("solvent_kg", &P::solvent_kg, "kg", "water there is by point");
    take("log10_gas_bar", &P::log10_gas_bar, "", "log10 of the fugacity of the gas by point");
    take("solids", &P::solids, "", "solids that form");
    take("dissolved", &P::dissolved, "", "dissolved, by component");
    take("dissolved_cu1", &P::dissolved_cu1, "mol/kg", "dissolved copper(I) by point");
    take("warnings", &P::warnings, "", "warnings");
    take("remarks", &P::remarks, "", "what the activity model assumes");
    take("figures", &P::figures, "", "constants used");
    take("estimated_heats", &P::estimated_heats, "", "rests on an estimated heat");
  }
};

template <>
struct Description<RateCheck> {
  static constexpr std::string_view name = "RateCheck";
  static constexpr std::string_view meaning =
      "Whether the rate of copper(I) or the supply of oxygen limits.";
  using R = RateCheck;
  template <class Take>
  static void figures(Take take) {
    take("k_kg_per_mol_min", known<&R::k_kg_per_mol_min>(), "kg/(mol min)", "published rate",
         digits(2));
    take("half_life_min", known<&R::half_life_min>(), "min", "half-life of copper(I)", digits(2));
    take("diffusion_min", known<&R::diffusion_min>(), "min", "oxygen crosses the layer in",
         digits(2));
    take("capacity_over_supply", known<&R::capacity_over_supply>(), "",
         "oxygen that could be used over what comes", digits(2));
  }
};

template <>
struct Description<CoinPath> {
  static constexpr std::string_view name = "CoinPath";
  static constexpr std::string_view meaning = "A copper coin under salt water open to air.";
  using C = CoinPath;
  template <class Take>
  static void figures(Take take) {
    take("oxygen_mol_per_m2", &C::oxygen_mol_per_m2, "mol/m2", "oxygen that comes", digits(2));
    take("cuprite_nm", &C::cuprite_nm, "nm", "of cuprite at most", digits(2), at_a_glance);
    take("metal_nm", &C::metal_nm, "nm", "of metal that it takes", digits(2), at_a_glance);
    take("rate", &C::rate, "", "what limits");
    take("read", &C::read, "", "what to read", at_a_glance);
    take("left_out", &C::left_out, "", "what it leaves out", at_a_glance);
    take("at_metal", &C::at_metal, "", "path beside the metal");
    take("film", &C::film, "", "path of the film away from it");
  }
};

template <>
struct Description<PitInMoistAir> {
  static constexpr std::string_view name = "PitInMoistAir";
  static constexpr std::string_view meaning = "Nantokite that humid air reaches.";
  using N = PitInMoistAir;
  template <class Take>
  static void figures(Take take) {
    take("oxygen_ug_per_mg", &N::oxygen_ug_per_mg, "ug", "oxygen drawn by each mg", digits(3),
         at_a_glance);
    take("oxygen_ug", &N::oxygen_ug, "ug", "oxygen drawn", digits(3));
    take("acid_umol", &N::acid_umol, "umol", "hydrochloric acid made", digits(3), at_a_glance);
    take("trihydroxychloride_mg", &N::trihydroxychloride_mg, "mg", "trihydroxychloride formed",
         digits(3));
    take("freed_percent", &N::freed_percent, "%", "of the chloride set free each cycle", digits(3));
    take("most_metal_mg", &N::most_metal_mg, "mg", "of metal eaten when each cycle locks half",
         digits(3));
    take("cycles_locking", known<&N::cycles_locking>(), "",
         "cycles until the metal is gone when each locks half", digits(2));
    take("cycles_free", &N::cycles_free, "", "the same when none is locked", digits(2));
    take("dissolved_percent", known<&N::dissolved_percent>(), "%",
         "of the chloride dissolved at the end, alone", digits(3));
    take("read", &N::read, "", "what to read", at_a_glance);
    take("left_out", &N::left_out, "", "what it leaves out", at_a_glance);
    take("alone", &N::alone, "", "path of nantokite and moisture");
    take("beside_metal", &N::beside_metal, "", "path with the metal");
  }
};

template <>
struct Description<NantokiteBath> {
  static constexpr std::string_view name = "NantokiteBath";
  static constexpr std::string_view meaning = "What one bath makes of nantokite.";
  using N = NantokiteBath;
  template <class Take>
  static void figures(Take take) {
    take("bath", &N::bath, "", "bath");
    take("mol_per_l", &N::mol_per_l, "mol/L", "strength", digits(3));
    take("air", &N::air, "", "air");
    take("solids_left_out", &N::solids_left_out, "", "solids left out");
    take("status", &N::status, "", "how it ended");
    take("message", &N::message, "", "why there is no answer");
    take("solids", &N::solids, "", "becomes");
    take("ph", known<&N::ph>(), "", "pH", digits(3));
    take("released_percent", known<&N::released_percent>(), "%", "chloride released", digits(3));
    take("locked_percent", known<&N::locked_percent>(), "%", "locked", digits(3));
    take("kept_percent", known<&N::kept_percent>(), "%", "still nantokite", digits(3));
    take("chloride_mg_per_l", known<&N::chloride_mg_per_l>(), "mg/L", "chloride in the bath",
         digits(3));
  }
};

template <>
struct Description<NantokiteInBaths> {
  static constexpr std::string_view name = "NantokiteInBaths";
  static constexpr std::string_view meaning = "What baths make of nantokite.";
  using N = NantokiteInBaths;
  template <class Take>
  static void figures(Take take) {
    take("nantokite_g_per_l", &N::nantokite_g_per_l, "g/L", "nantokite", at_a_glance);
    take("all_mg_per_l", &N::all_mg_per_l, "mg/L", "chloride if all were released", at_a_glance);
    take("baths", &N::baths, "", "baths", at_a_glance);
    take("observed_low_percent", &N::observed_low_percent, "%",
         "released in 24 h, published, low end");
    take("observed_high_percent", &N::observed_high_percent, "%", "high end");
    take("read", &N::read, "", "what to read", at_a_glance);
    take("left_out", &N::left_out, "", "what it leaves out", at_a_glance);
  }
};

template <>
struct Description<CarbonateBathPath> {
  static constexpr std::string_view name = "CarbonateBathPath";
  static constexpr std::string_view meaning = "A carbonate bath that stands in air.";
  using C = CarbonateBathPath;
  template <class Take>
  static void figures(Take take) {
    take("fresh_ph", known<&C::fresh_ph>(), "", "pH as made up", at_a_glance);
    take("open_ph", known<&C::open_ph>(), "", "pH at peace with the air", at_a_glance);
    take("moved_mmol_per_l", known<&C::moved_mmol_per_l>(), "mmol/L",
         "carbon dioxide taken up (negative: lost)", digits(3), at_a_glance);
    take("covered_ph", known<&C::covered_ph>(), "", "pH under a lid", at_a_glance);
    take("covered_moved_mmol_per_l", known<&C::covered_moved_mmol_per_l>(), "mmol/L",
         "taken up under a lid", digits(3));
    take("read", &C::read, "", "what to read", at_a_glance);
    take("left_out", &C::left_out, "", "what it leaves out", at_a_glance);
    take("open", &C::open, "", "path to the air");
  }
};

}  // namespace aeruca::detail
