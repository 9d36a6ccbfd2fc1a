#pragma once

// Why there is no answer: the proof where there is one, and the words for it.

#include <string>

#include "equilibrium/system.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca::detail {

/// For a water that was not solved: `infeasible` with the proof that it cannot be, `no_parameters`
/// where the activity model lacks some that would matter were the solution ideal, `unstable` where
/// it has no stable solution, the solver's own status otherwise. Fills the message.
void explain(const WaterSystem& system, Workplace& place);

}  // namespace aeruca::detail
