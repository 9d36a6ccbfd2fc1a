#pragma once

// The kernels by width. Each is a file of its own, compiled for the machine it asks for.

#include "equilibrium/lane_plan.hpp"

namespace aeruca::detail {

void solve_2(const LaneView& plan, const LaneWaters& waters, double* scratch);
void solve_4(const LaneView& plan, const LaneWaters& waters, double* scratch);
void solve_8(const LaneView& plan, const LaneWaters& waters, double* scratch);

}  // namespace aeruca::detail
