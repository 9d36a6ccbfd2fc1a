#include "casefile/hash.hpp"

#include <array>
#include <cstdio>

#include "dataset/records.hpp"

namespace aeruca::detail {

std::string content_hash(std::string_view text) {
  constexpr std::uint64_t kStart = 0xcbf29ce484222325;  // FNV-1a, 64 bits
  std::array<char, 17> digits{};
  std::snprintf(digits.data(), digits.size(), "%016llx",
                static_cast<unsigned long long>(fnv1a(text, kStart)));
  return digits.data();
}

}  // namespace aeruca::detail
