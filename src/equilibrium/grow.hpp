#pragma once

// The answer that continues from dilution: all totals, and the gases that are held, are scaled up
// together, from where every activity model is nearly ideal and the answer unique, to what was
// weighed in. Solids come and go on the way. The way ends early where the solution would fall
// apart.

#include "equilibrium/solver.hpp"

namespace aeruca::detail {

/// Leaves the answer of `chemistry` in the solver when it converges. `scaled` is room for the
/// scaled water and must outlive the solver's use of it. `way_ends` becomes the share of the totals
/// at which the solution reaches the edge of its stability, 0 when it does not.
Status grow(Solver& solver, const Chemistry& chemistry, const Activity& activity,
            std::size_t model_species, int iteration_limit, Chemistry& scaled, double& way_ends);

}  // namespace aeruca::detail
