#pragma once

// A mixture of salts over humidity, described once.

#include <string>

#include "aeruca/mixture.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<MixtureState> {
  static constexpr std::string_view name = "MixtureState";
  static constexpr std::string_view meaning =
      "A mixture of salts at one humidity; amounts for moles of ions as given.";
  using S = MixtureState;
  template <class Take>
  static void figures(Take take) {
    take("rh_percent", &S::rh_percent, "% RH", "humidity", digits(5), at_a_glance);
    take("status", &S::status, "", "converged where the state is certified", at_a_glance);
    take("brine", &S::brine, "", "there is a brine", at_a_glance);
    take("solids", &S::solids, "mol", "solids", at_a_glance);
    take("water_kg", &S::water_kg, "kg", "water in the brine", digits(4), at_a_glance);
    take("brine_molality", &S::brine_molality, "mol/kg", "ions in the brine");
    take("nearest_solution_rh_percent", &S::nearest_solution_rh_percent, "% RH",
         "without a brine: the humidity that the solution which comes nearest would need",
         digits(4));
    take("to_end_of_range", &S::to_end_of_range, "",
         "that there is no brine is proven within the range of the activity model alone");
    take("message", &S::message, "", "why there is no answer");
    take("warnings", &S::warnings, "", "what the reader must know");
  }
  static std::string said(const S& state);
};

template <>
struct Description<MixtureOnset> {
  static constexpr std::string_view name = "MixtureOnset";
  static constexpr std::string_view meaning = "Where a phase comes or goes.";
  using O = MixtureOnset;
  template <class Take>
  static void figures(Take take) {
    take("rh_percent", &O::rh_percent, "% RH", "humidity", digits(5));
    take("drier", &O::drier, "", "solids where it is drier");
    take("moister", &O::moister, "", "solids where it is moister");
    take("brine_when_drier", &O::brine_when_drier, "", "a brine where it is drier");
    take("brine_when_moister", &O::brine_when_moister, "", "a brine where it is moister");
    take("rh_uncertainty_percent", &O::rh_uncertainty_percent, "% RH",
         "its standard uncertainty where a brine first forms", digits(2));
  }
  static std::string said(const O& onset);
};

template <>
struct Description<MixtureSweep> {
  static constexpr std::string_view name = "MixtureSweep";
  static constexpr std::string_view meaning = "A mixture of salts over humidity.";
  using S = MixtureSweep;
  template <class Take>
  static void figures(Take take) {
    take("temperature_c", &S::temperature_c, "degrees C", "temperature", at_a_glance);
    take("ions", &S::ions, "mol", "ions as given", at_a_glance);
    take("mutual_deliquescence_rh_percent", &S::mutual_deliquescence_rh_percent, "% RH",
         "lowest humidity with a brine", digits(4), at_a_glance);
    take("mutual_deliquescence_uncertainty_percent", &S::mutual_deliquescence_uncertainty_percent,
         "% RH", "its standard uncertainty, mixing terms that nobody has published in it",
         digits(2), at_a_glance);
    take("onsets", &S::onsets, "", "where a phase comes or goes");
    take("states", &S::states, "", "states by rising humidity");
    take("warnings", &S::warnings, "", "what the reader must know", at_a_glance);
  }
};

}  // namespace aeruca::detail
