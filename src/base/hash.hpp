#pragma once

// 64-bit FNV-1a: tells files apart, is no seal.

#include <cstdint>
#include <string>
#include <string_view>

namespace aeruca::detail {

inline constexpr std::uint64_t kHashStart = 0xcbf29ce484222325;

/// The hash of the bytes, continued from `hash`.
std::uint64_t fnv1a(std::string_view text, std::uint64_t hash = kHashStart);

/// 16 hexadecimal digits, and back.
std::string hexadecimal(std::uint64_t hash);
std::uint64_t from_hexadecimal(const std::string& text);

/// 16 hexadecimal digits over the bytes.
std::string content_hash(std::string_view text);

}  // namespace aeruca::detail
