// 8 waters side by side: AVX-512.
#include "equilibrium/lane_kernel.hpp"
#include "equilibrium/lane_kernels.hpp"

namespace aeruca::detail {

void solve_8(const LaneView& plan, const LaneWaters& waters, double* scratch) {
  solve_in_lanes<8>(plan, waters, scratch);
}

}  // namespace aeruca::detail
