#pragma once

// A body that follows the concentration at its surface, as a few relaxing parts.
//
// With the surface held at c, a slab, cylinder or sphere of load 1 holds sum beta_n v_n with
// dv_n/dtau = -lambda_n (v_n - c): lambda_n are the squares of the zeros of phi (bath.hpp) and
// beta_n = 2d/lambda_n, which add up to 1. Evenly loaded, every v_n begins at 1. There are endlessly
// many; the first are taken as they are, the others in bands of lambda, each replaced by the nodes
// of the Gauss rule of its own weights, which is right to the eighth power of the band's width. A
// load at the metal begins with v_n of growing size and alternating sign, so no band can stand for
// it: it takes more parts one by one, the last of them faded out, which is exact as long as nothing
// has reached the surface, and by then those parts are gone.

#include <cstddef>
#include <vector>

#include "aeruca/bath.hpp"

namespace aeruca::detail {

/// How finely the parts are taken: for results (1e-7 of the load), or for the many treatments that
/// are weighed against readings of a per cent (1e-5).
enum class Fineness { result, reading };

struct RelaxingParts {
  std::vector<double> rate;    ///< lambda, times D/L^2
  std::vector<double> weight;  ///< beta; add up to 1
  std::vector<double> start;   ///< v at the beginning, 1: evenly loaded
};

/// The parts of a body with its load. Made once for each and kept. Throws InputError for a load at
/// the metal of anything but a slab.
[[nodiscard]] const RelaxingParts& relaxing_parts(BodyShape shape, InitialLoad load,
                                                  Fineness fineness);

}  // namespace aeruca::detail
