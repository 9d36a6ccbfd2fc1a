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
  const auto address = reinterpret_cast<std::uintptr_t>(data);
  const std::size_t to_page = (kPage - address % kPage) % kPage;
  const std::size_t whole = (bytes - to_page) / kPage * kPage;
  // A refusal changes nothing but the time.
  static_cast<void>(madvise(static_cast<char*>(data) + to_page, whole, MADV_HUGEPAGE));
}
#else
void prefer_large_pages(void*, std::size_t) {}
#endif

}  // namespace aeruca::detail
