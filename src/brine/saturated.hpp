#pragma once

// The saturated solution of one salt at one temperature, from its solubility or its constant.

#include <limits>
#include <string>
#include <string_view>

#include "aeruca/brine.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca::detail {

/// What a computation at one temperature gave.
struct Saturated {
  double rh_percent = kNotGiven;
  double molality_measured = kNotGiven, molality_constant = kNotGiven, rh_constant = kNotGiven;
  double solubility_error = kNotGiven;  // relative
  SaturationBasis basis = SaturationBasis::not_known;
  std::string not_known_because;
  const PitzerBinary* set = nullptr;
};

/// With the set of id `asked`, or the one that serves there. Throws UnknownName for the set and
/// InputError for a set of other ions.
[[nodiscard]] Saturated saturated_solution(const Dataset& dataset, const Salt& salt,
                                           double temperature_c, std::string_view asked);

}  // namespace aeruca::detail
