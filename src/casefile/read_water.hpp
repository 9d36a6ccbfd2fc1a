#pragma once

// One [[water]] of a case file, into the analysis it is.

#include "casefile/section.hpp"

namespace aeruca::detail {

/// Reads the table. Ions are keys of a word and a unit (`chloride_mg_per_l`,
/// `ammonium_mmol_per_l`); whether the data set knows the word is seen when the water is solved.
CaseWater read_water(Section section);

}  // namespace aeruca::detail
