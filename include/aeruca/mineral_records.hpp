#pragma once

/// \file
/// What the data set knows of a solid as the eye, the needle and a drop of reagent find it.
///
/// Words. *Field test*: one question put to a lifted grain, with the *outcomes* it may have; an
/// outcome belongs to one test only ("fizz" is of the acid). *Usual* outcomes are what most grains
/// of the mineral give, *possible* ones what some do; of a test with neither nothing is known.
///
/// Molar volume: V = M / density, with the standard uncertainty of the density. It says how thick a
/// layer an amount makes if it is compact; porous layers are thicker.

#include <string>
#include <string_view>
#include <vector>

#include "aeruca/not_given.hpp"
#include "aeruca/provenance.hpp"

namespace aeruca {

/// A question put to a lifted grain, never to the object.
struct FieldTest {
  std::string id;                     ///< "silver-nitrate"
  std::string question;               ///< what it answers
  std::vector<std::string> outcomes;  ///< "cloud", "clear"
  std::string how;                    ///< it is done
  std::string misleads;               ///< its false results
  std::string caution;                ///< for people and object
  std::string source;                 ///< key of a Source
  std::string place;                  ///< in it
  Basis basis = Basis::memory;
};

/// How often a solid is met on copper alloys. Our judgement; it breaks ties and no more.
enum class Occurrence { common, occasional, rare };
/// "common", "occasional" or "rare".
[[nodiscard]] std::string_view to_string(Occurrence occurrence);

/// A solid as it is met on an object.
struct Mineral {
  std::string name;               ///< as in Dataset::species where it is there
  std::vector<std::string> also;  ///< other names of it
  std::string formula;            ///< empty: no single one (soap, wax)
  std::string group;              ///< "trihydroxychloride": minerals that mean the same
  std::string colour, habit;      ///< in words
  std::string means;              ///< for the activity of the object
  std::string does_not_mean;
  std::vector<std::string> usual, possible;  ///< outcomes of field tests
  Occurrence on_copper = Occurrence::rare;
  double molar_mass_g_per_mol = kNotGiven;  ///< NaN: no formula
  double density_g_per_cm3 = kNotGiven;     ///< NaN: not known
  double density_uncertainty = kNotGiven;   ///< NaN: not stated
  std::string density_figure;               ///< id of its figure; empty: none
  std::string note;
  std::string source, place;  ///< of colour, habit and outcomes
  Basis basis = Basis::memory;
  std::string group_source, group_place;  ///< of what it means
  Basis group_basis = Basis::memory;

  /// cm3 per mol of `formula`; NaN where formula or density is not known.
  [[nodiscard]] double molar_volume_cm3_per_mol() const {
    return molar_mass_g_per_mol / density_g_per_cm3;
  }
  /// One standard uncertainty of it; NaN likewise, and where that of the density is not stated.
  [[nodiscard]] double molar_volume_uncertainty() const {
    return molar_volume_cm3_per_mol() * density_uncertainty / density_g_per_cm3;
  }
};

}  // namespace aeruca
