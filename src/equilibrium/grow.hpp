#pragma once

// The answer that continues from dilution: all totals, and the gases that are held, are scaled up
// together, and a pH that is held may move from 7 as well, from where every activity model is nearly
// ideal and the answer unique, to what was asked. Or, the same way down, from a water more
// concentrated than that. Solids come and go on the way. The way ends early where the
// solution would fall apart, and where it turns back: no answer continues it, and the composition
// changes without bound for ever smaller changes of what is asked.

#include "aeruca/not_given.hpp"
#include "equilibrium/solver.hpp"

namespace aeruca::detail {

struct WayEnd {
  double share = 0;       ///< of the totals, where the way ends early; 0: it does not
  double ph = kNotGiven;  ///< there, when it is held
  bool turns = false;     ///< back; otherwise the solution is at the edge of its stability
  double charge = 0;      ///< sum z m there, mol/kg
  double all_charge = 0;  ///< sum |z| m
};

/// Where the way begins: at little of what is asked, or at more than it, from where it thins out.
enum class Beginning { dilution, concentration };

/// Where a pH that is held begins. From neutral is the last hope: that way, where it would end, also
/// looks for an answer a little further on, which then need not continue from dilution.
enum class FirstPh { as_asked, neutral };

/// Leaves the answer of `chemistry` in the solver when it converges. `scaled` is room for the
/// scaled water and must outlive the solver's use of it. `end` says where the way ends early.
Status grow(Solver& solver, const Chemistry& chemistry, const Activity& activity,
            std::size_t model_species, int iteration_limit, Beginning beginning, FirstPh first_ph,
            Chemistry& scaled, WayEnd& end);

}  // namespace aeruca::detail
