#pragma once

/// \file
/// What a bath does before any object lies in it, and to the copper compounds of one that does: its
/// pH, and the copper that a solid lets into it.
///
/// Words. The *fresh* bath is as made up, closed off from air; *open to air* it has taken up (or
/// given off) carbon dioxide until it is at peace with the air, `kAirCarbonDioxideBar`: how fast is
/// not said, days to months for a covered tank. A solid *over* which the bath stands is there in
/// plenty, so that what dissolves is what equilibrium allows and some of it stays.
///
/// Equations. The pH follows from the charge balance (`equilibrium.hpp`); hydroxide is what the
/// balance asks for, so ions of the salt other than OH(-) are given. Copper over a solid:
///   in air      solid = dissolved copper(II), with oxygen held at `kAirOxygenBar`
///   no air      solid + metal = dissolved copper(I) and (II), copper and electrons conserved
/// and its uncertainty is that of log10 K of  a solid + b copper = main form: an error of the
/// constant is a factor of the copper.
///
/// | figure | uncertainty                                                               |
/// |--------|---------------------------------------------------------------------------|
/// | pH     | about 0.1 at 0.1 mol/kg: what the activity coefficients carry             |
/// | copper | `factor`: two standard uncertainties of the constants; a tenfold is usual |
/// | copper | `other_factor`: another published figure for one of them                  |
///
/// Range. 0 to 50 degrees C for the pH. Copper only where the constants of its dissolved forms are
/// known, which in the data set is 25 degrees C: elsewhere InputError names those that lack an
/// enthalpy, for frozen constants against an ionisation of water that moves come out wrong in sign.
///
/// Not in it. Rates; sodium copper carbonate (chalconatronite), whose constant is not in the data
/// set; what a film or a coating holds back.

#include <memory>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// Share of oxygen in dry air at 1 bar (20.95 %), to two figures.
inline constexpr double kAirOxygenBar = 0.21;
/// Carbon dioxide of the open air of the 2020s, to two figures; a closed room may hold twice that.
inline constexpr double kAirCarbonDioxideBar = 4.2e-4;

/// A bath as made up.
struct BathMakeup {
  std::string salt;           ///< of `bath_salts()` in weigh_out.hpp, or plain water
  double mol_per_l = 0;       ///< above 0 to 10, of water 0; taken as mol per kg of water
  double temperature_c = 25;  ///< 0 to 50
};

/// Whether air reaches the bath.
enum class BathAir { shut_out, open };
/// "shut out" or "open".
[[nodiscard]] std::string_view to_string(BathAir air);

/// The bath without an object. With `open`, carbon dioxide of the air is held. Throws as
/// `bath_salt` for the salt and as Equilibrium for the rest.
[[nodiscard]] EquilibriumResult bath_water(const std::shared_ptr<const Dataset>& dataset,
                                           const BathMakeup& bath, BathAir air);

/// Copper that a solid lets into a bath.
struct CopperOverSolid {
  std::string solid;
  BathAir air = BathAir::shut_out;
  double temperature_c = 25;
  Status status = Status::iteration_limit;  ///< as that of the equilibrium
  std::string message;                      ///< one sentence; empty when all is well
  double mg_per_l = kNotGiven;              ///< dissolved copper, all forms; NaN without an answer
  double factor = kNotGiven;  ///< it may be so many times more or less; 95 % by the constants
  double other_factor = 1;    ///< the most that another published figure changes it; 1: none does
  std::string main_form;      ///< the dissolved form that holds most of it
  std::vector<std::string> warnings, remarks, figures;  ///< as of the equilibrium
  std::vector<std::string> estimated_heats;             ///< likewise
};

/// With air shut out, metal lies beside the solid; `open` holds oxygen, but not carbon dioxide: the
/// bath as made up. Throws as `bath_water`, UnknownName for a solid that is not in the data set,
/// and InputError for one without copper.
[[nodiscard]] CopperOverSolid copper_over(const std::shared_ptr<const Dataset>& dataset,
                                          const BathMakeup& bath, const std::string& solid,
                                          BathAir air);

}  // namespace aeruca
