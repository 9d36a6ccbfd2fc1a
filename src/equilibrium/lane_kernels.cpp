// Which kernels this machine can run, asked once.
#include "equilibrium/lane_kernels.hpp"

namespace aeruca::detail {

const std::vector<LaneKernel>& lane_kernels() {
  static const std::vector<LaneKernel> kernels = [] {
    std::vector<LaneKernel> found{{2, "any machine", &solve_2}};
#ifdef AERUCA_WIDE_LANES
    if (__builtin_cpu_supports("avx2") != 0 && __builtin_cpu_supports("fma") != 0)
      found.push_back({4, "AVX2 and FMA", &solve_4});
    if (__builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512dq") != 0)
      found.push_back({8, "AVX-512", &solve_8});
#endif
    return found;
  }();
  return kernels;
}

}  // namespace aeruca::detail
