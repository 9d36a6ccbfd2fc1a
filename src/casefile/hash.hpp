#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace aeruca::detail {

/// 16 hexadecimal digits over the bytes (64-bit FNV-1a): tells files apart, is no seal.
std::string content_hash(std::string_view text);

}  // namespace aeruca::detail
