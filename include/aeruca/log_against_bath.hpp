#pragma once

/// \file
/// The pH and colour that a bath log states, against what the bath should be.
///
/// A pH is expected between the lowest and the highest of the fresh, the covered and the open bath
/// (`bath_recipe.hpp`), 0.3 wider on either side: what meters, their glass in strong soda and
/// handbooks differ by (a rule of our own; a handbook gives 10.1 for 0.1 mol/L sesquicarbonate, 9.81
/// is computed). In plain water, and where the nantokite of the object is stated, the acid that
/// nantokite sets free is expected too.
///
/// A blue bath is expected where a copper solid may let 10 mg/L or more dissolve (a rule of our own
/// for what an eye sees in a beaker). Green, brown and cloudy baths are told what else may be in
/// them. A colour in other words is compared with nothing, and that is said.

#include <string>
#include <vector>

#include "aeruca/bath_log.hpp"
#include "aeruca/bath_recipe.hpp"

namespace aeruca {

/// One bath of a log that is not as it should be.
struct LogDisagreement {
  std::size_t bath = 0;  ///< from 1
  std::string of;        ///< "pH" or "colour"
  std::string logged;    ///< as the log has it
  std::string sentence;
};

struct LogAgainstBath {
  double lowest_ph = kNotGiven, highest_ph = kNotGiven;  ///< expected; NaN: the bath has no answer
  std::size_t compared_ph = 0, compared_colours = 0;     ///< how many the log states
  std::vector<LogDisagreement> disagreements;
  std::string sentence;  ///< on the whole log
};

/// Whether the acid of the nantokite that the chemistry was worked out for is expected.
enum class NantokiteAcid { not_expected, expected };
[[nodiscard]] LogAgainstBath log_against_bath(const BathLog& log, const BathChemistry& bath,
                                              NantokiteAcid acid = NantokiteAcid::not_expected);

}  // namespace aeruca
