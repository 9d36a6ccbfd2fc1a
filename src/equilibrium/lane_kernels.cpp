// Which kernels this machine can run, asked once.
#include "equilibrium/lane_kernels.hpp"

namespace aeruca::detail {

const std::vector<LaneKernel>& lane_kernels() {
  static const std::vector<LaneKernel> kernels = [] {
    std::vector<LaneKernel> found{{2, "any machine", &solve_2}};
#ifdef AERUCA_WIDE_LANES
    // int with g++, bool with clang
    const auto has = [](auto supported) { return static_cast<int>(supported) != 0; };
    if (has(__builtin_cpu_supports("avx2")) && has(__builtin_cpu_supports("fma")))
      found.push_back({4, "AVX2 and FMA", &solve_4});
    if (has(__builtin_cpu_supports("avx512f")) && has(__builtin_cpu_supports("avx512dq")))
      found.push_back({8, "AVX-512", &solve_8});
#endif
    return found;
  }();
  return kernels;
}

}  // namespace aeruca::detail
