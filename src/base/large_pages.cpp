#include "base/large_pages.hpp"

#if defined(__linux__)
#include <sys/mman.h>

#include <cstdint>
#endif

namespace aeruca::detail {

#if defined(__linux__) && defined(MADV_HUGEPAGE)
void prefer_large_pages(void* data, std::size_t bytes) {
  constexpr std::uintptr_t kPage = 4096;
  constexpr std::size_t kWorthwhile = std::size_t{1} << 22;
  if (bytes < kWorthwhile) return;
  const auto first = (reinterpret_cast<std::uintptr_t>(data) + kPage - 1) / kPage * kPage;
  const auto last = (reinterpret_cast<std::uintptr_t>(data) + bytes) / kPage * kPage;
  // A refusal changes nothing but the time.
  static_cast<void>(madvise(reinterpret_cast<void*>(first), last - first, MADV_HUGEPAGE));
}
#else
void prefer_large_pages(void*, std::size_t) {}
#endif

}  // namespace aeruca::detail
