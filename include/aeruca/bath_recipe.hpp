#pragma once

/// \file
/// A bath from the shelf to the drain: what to weigh, the chloride it brings, its pH fresh and aged,
/// what it makes of nantokite, and the copper, lead and zinc it carries off.
///
/// Words. *Blank*: chloride in the bath before the object lies in it, from reagent and water. *Aged*:
/// at peace with the carbon dioxide of the air, either with the air over an open vessel, which has no
/// end, or with what is under a lid. *Locked*: chloride in a trihydroxychloride, out of the solution
/// but not out of the object. *Carried off*: dissolved in one filling at saturation.
///
/// Each figure has a value, a low and a high end.
///
/// | figure       | its range                                                                     |
/// |--------------|-------------------------------------------------------------------------------|
/// | blank        | low: the reagent brings none, for a label says at most; the water by its error |
/// | pH           | 95 % of the constants as published (`ranges.hpp`, 200 draws), the other model of |
/// |              | activity where it has parameters, and 0.02 between pH scales                  |
/// | locked       | what comes out with every solid, and with those observed alone                |
/// | metals       | two standard uncertainties of the constants, or another published figure      |
///
/// Equations as in `bath_chemistry.hpp` and `ready_paths.hpp`; lead and zinc are those over the least
/// soluble of their oxides, hydroxides and, in a bath that holds carbonate, carbonates, one at a time.
///
/// Not in it. How fast: a still tank takes weeks to meet the air. Sodium copper carbonate
/// (chalconatronite), unless its constant was added to the data set. Tap water, which holds salts.
/// Complexes with what an object brings. An amount carried off is what saturation allows, a film or
/// a short bath gives less.

#include <memory>
#include <string>
#include <vector>

#include "aeruca/bath_chemistry.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/ready_paths.hpp"
#include "aeruca/weigh_out.hpp"

namespace aeruca {

/// A figure and where it may lie.
struct WithinRange {
  double value = kNotGiven;
  double low = kNotGiven;
  double high = kNotGiven;
};

/// What is made up, from what, and for what.
struct BathRecipe {
  std::string salt = "sodium sesquicarbonate";  ///< by any name `bath_salt` takes, or plain water
  double percent_w_v = kNotGiven;               ///< strength, above 0 to 50; or
  double mol_per_l = kNotGiven;                 ///< above 0 to 2; neither for water
  double volume_l = 1;                          ///< of one filling, above 0 to 1e6
  std::string form;                             ///< on the shelf; empty: nothing to weigh
  double purity_percent = 100;
  double reagent_chloride_percent = kNotGiven;  ///< at most, as labels say; 0 to 1; needs a form
  double water_chloride_mg_per_l = kNotGiven;
  double water_chloride_error_mg_per_l = kNotGiven;  ///< plus or minus; needs the one above
  double temperature_c = 25;                         ///< 0 to 50
  double carbon_dioxide_bar = kAirCarbonDioxideBar;  ///< of the air, 1e-6 to 1
  double headspace_l_per_l = 0.1;                    ///< air under the lid, 0 to 100
  double object_mass_g = kNotGiven;                  ///< above 0
  double nantokite_g = kNotGiven;   ///< in the object; NaN: 1 g for each litre. 0.001 to 10 g/L
  std::vector<std::string> metals;  ///< "lead", "zinc": beside copper in the object
};

/// The pH in one state of the bath.
struct BathPh {
  std::string state;  ///< "fresh", "covered" or "open"
  WithinRange ph;
  double moved_mmol_per_l = 0;  ///< carbon dioxide taken up; negative: given off
};

/// A metal that the bath holds at saturation with one of its solids.
struct CarriedOff {
  std::string metal;  ///< "copper", "lead", "zinc"
  std::string solid;
  std::string air;        ///< "open" or "shut out", for copper; otherwise empty
  std::string main_form;  ///< the dissolved form that holds most of it
  WithinRange mg_per_l;
  WithinRange mg;               ///< in one filling
  WithinRange percent_of_mass;  ///< of the object; NaN where its mass is not given
};

struct BathChemistry {
  std::string salt;  ///< in full, or "water"
  double mol_per_l = 0;
  double percent_w_v = 0;
  double volume_l = 1;
  double temperature_c = 25;
  Status status = Status::converged;  ///< of the worst answer that was asked for
  std::string message;                ///< one sentence; empty when all is well
  std::string form;
  std::vector<WeighedReagent> reagents;  ///< empty without a form
  Dissolves dissolves = Dissolves::not_known;
  std::string solubility_words;  ///< empty for water
  WithinRange blank_mg_per_l;    ///< of what is known
  WithinRange blank_mg;
  std::vector<std::string> blank_lacks;  ///< "reagent", "water": of which nothing is known
  std::vector<BathPh> ph;
  double nantokite_g_per_l = 1;
  std::vector<NantokiteBath> nantokite;  ///< shut off; open; open, without solids not observed
  WithinRange locked_percent;            ///< of the chloride of nantokite; value: solids observed
  std::vector<CarriedOff> carried_off;
  std::vector<std::string> read, left_out, warnings, cautions, figures;

  /// Of that state; nothing where it was not found.
  [[nodiscard]] const BathPh* ph_of(std::string_view state) const;
};

/// Throws as `bath_salt`, `weigh_out`, `bath_in_air`, and InputError for numbers outside their
/// ranges, for what has no effect, and for a metal that is neither lead nor zinc.
[[nodiscard]] BathChemistry chemistry_of_bath(const std::shared_ptr<const Dataset>& dataset,
                                              const BathRecipe& recipe);

}  // namespace aeruca
