#pragma once

// One kernel, whole: included once by each width; see numerics/lanes.hpp for why all is internal.

#include "equilibrium/lane_certify.hpp"
#include "equilibrium/lane_charge.hpp"
#include "equilibrium/lane_full.hpp"
#include "equilibrium/lane_guess.hpp"
#include "equilibrium/lane_model.hpp"
#include "equilibrium/lane_pitzer.hpp"

namespace aeruca::detail {
namespace {  // NOLINT(cert-dcl59-cpp,google-build-namespaces)

template <int W>
void solve_in_lanes(const LaneView& plan, const LaneWaters& waters,
                    double* scratch) {  // NOLINT(readability-non-const-parameter)
  LaneSolver<W>(plan, waters, scratch).solve();
}

}  // namespace
}  // namespace aeruca::detail
