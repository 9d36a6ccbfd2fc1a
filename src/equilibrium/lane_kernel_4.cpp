// 4 waters side by side: AVX2 and FMA.
#include "equilibrium/lane_kernel.hpp"
#include "equilibrium/lane_kernels.hpp"

namespace aeruca::detail {

void solve_4(const LaneView& plan, const LaneWaters& waters, double* scratch) {
  solve_in_lanes<4>(plan, waters, scratch);
}

}  // namespace aeruca::detail
