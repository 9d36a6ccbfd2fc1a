// 2 waters side by side: any machine.
#include "equilibrium/lane_kernel.hpp"
#include "equilibrium/lane_kernels.hpp"

namespace aeruca::detail {

void solve_2(const LaneView& plan, const LaneWaters& waters, double* scratch) {
  solve_in_lanes<2>(plan, waters, scratch);
}

}  // namespace aeruca::detail
