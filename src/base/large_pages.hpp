#pragma once

#include <cstddef>
#include <vector>

namespace aeruca::detail {

/// Asks the system to back this memory, which nothing has touched yet, with large pages: page by
/// page of 4096 bytes, fresh memory costs more time than filling it. No effect on what is stored,
/// nor for less than some megabytes, nor where the system has no such pages.
void prefer_large_pages(void* data, std::size_t bytes);

/// Room for `count` values, in large pages.
template <class T>
void reserve_large(std::vector<T>& values, std::size_t count) {
  values.reserve(count);
  if (values.empty()) prefer_large_pages(values.data(), values.capacity() * sizeof(T));
}

}  // namespace aeruca::detail
