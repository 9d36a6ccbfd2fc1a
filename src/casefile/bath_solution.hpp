#pragma once

// What [bath.solution] says: the salt by its full name, what to weigh, and the chloride that is in
// the bath before the object goes in.

#include <string>
#include <vector>

#include "aeruca/weigh_out.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {

/// The salt in full, and its form, whatever name the case gives them. Throws FileError at the key
/// of a name that the data set does not know.
CaseSolution with_full_names(const CaseFile& file, const Dataset& dataset);

WeighOutRequest request_of(const CaseSolution& solution);

/// Chloride of the fresh bath, from the salt and the water: of both what is known, for a part of
/// the blank is nearer to it than none.
struct BathBlank {
  double mg_per_l = kNotGiven;       ///< NaN: neither is known
  std::vector<std::string> lacking;  ///< keys without which it is not whole
};
/// `solution` by its full names.
BathBlank blank_of_solution(const CaseSolution& solution, const Dataset& dataset);

}  // namespace aeruca::detail
