#include "base/hash.hpp"

namespace aeruca::detail {

std::uint64_t fnv1a(std::string_view text, std::uint64_t hash) {
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3;
  return hash;
}

std::string hexadecimal(std::uint64_t hash) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string text(16, '0');
  for (std::size_t i = 16; i-- > 0; hash >>= 4) text[i] = kDigits[hash & 15];
  return text;
}

std::uint64_t from_hexadecimal(const std::string& text) {
  return std::stoull(text, nullptr, 16);
}

std::string content_hash(std::string_view text) {
  return hexadecimal(fnv1a(text));
}

}  // namespace aeruca::detail
