#include "base/utf16_pieces.hpp"

#include <algorithm>
#include <array>

namespace aeruca::detail {
namespace {

constexpr std::uint32_t kNoCharacter = 0xFFFD;
constexpr std::size_t kBlockUnits = 32;

bool is_high_half(std::uint32_t unit) {
  return unit >= 0xD800 && unit < 0xDC00;
}
bool is_low_half(std::uint32_t unit) {
  return unit >= 0xDC00 && unit < 0xE000;
}

}  // namespace

std::string_view Utf8Pieces::next() {
  std::string_view raw = raw_.next();
  if (!begun_) {
    begun_ = true;
    low_byte_first_ = raw.substr(0, 2) == "\xFF\xFE";
    utf16_ = low_byte_first_ || raw.substr(0, 2) == "\xFE\xFF";
    if (utf16_) raw.remove_prefix(2);
  }
  if (!utf16_) return raw;
  text_.erase(0, given_);
  given_ = 0;
  for (; !raw.empty(); raw = raw_.next()) {
    decode(raw);
    const std::size_t line_end = text_.rfind('\n');
    if (line_end == std::string::npos) continue;
    given_ = line_end + 1;
    return std::string_view(text_).substr(0, given_);
  }
  if (!odd_.empty() || high_half_ != 0) write(kNoCharacter);
  odd_.clear();
  high_half_ = 0;
  given_ = text_.size();
  return text_;
}

void Utf8Pieces::decode(std::string_view bytes) {
  const auto unit_of = [this](char first, char second) {
    const auto a = static_cast<std::uint32_t>(static_cast<unsigned char>(first));
    const auto b = static_cast<std::uint32_t>(static_cast<unsigned char>(second));
    return low_byte_first_ ? a | b << 8U : a << 8U | b;
  };
  std::size_t at = 0;
  if (!odd_.empty() && !bytes.empty()) {
    take_unit(unit_of(odd_.front(), bytes[at++]));
    odd_.clear();
  }
  while (at + 1 < bytes.size()) {
    at += low_byte_first_ ? take_plain<0>(bytes.substr(at)) : take_plain<1>(bytes.substr(at));
    const std::size_t end = std::min(bytes.size(), at + 2 * kBlockUnits);
    for (; at + 1 < end; at += 2) take_unit(unit_of(bytes[at], bytes[at + 1]));
  }
  if (at < bytes.size()) odd_ = bytes.substr(at);
}

// Blocks of letters below 128, which nearly all of a log are: the bytes it took. A half is waited for
// by the unit behind it.
template <std::size_t Letter>
std::size_t Utf8Pieces::take_plain(std::string_view bytes) {
  if (high_half_ != 0) return 0;
  std::size_t at = 0;
  for (; bytes.size() - at >= 2 * kBlockUnits; at += 2 * kBlockUnits) {
    std::array<char, kBlockUnits> letters;
    unsigned others = 0;
    for (std::size_t k = 0; k < kBlockUnits; ++k) {
      const char letter = bytes[at + 2 * k + Letter];
      const char other = bytes[at + 2 * k + 1 - Letter];
      others |= static_cast<unsigned char>(other);
      others |= static_cast<unsigned char>(letter) & 0x80U;
      letters[k] = letter;
    }
    if (others != 0) break;
    text_.append(letters.data(), kBlockUnits);
  }
  return at;
}

void Utf8Pieces::take_unit(std::uint32_t unit) {
  if (high_half_ != 0) {
    const std::uint32_t high = high_half_;
    high_half_ = 0;
    if (is_low_half(unit)) {
      write(0x10000 + ((high - 0xD800) << 10U) + (unit - 0xDC00));
      return;
    }
    write(kNoCharacter);
  }
  if (is_high_half(unit)) {
    high_half_ = unit;
  } else {
    write(is_low_half(unit) ? kNoCharacter : unit);
  }
}

void Utf8Pieces::write(std::uint32_t character) {
  const auto tail = [&](unsigned shift) {
    text_ += static_cast<char>(0x80U | ((character >> shift) & 0x3FU));
  };
  if (character < 0x80) {
    text_ += static_cast<char>(character);
  } else if (character < 0x800) {
    text_ += static_cast<char>(0xC0U | character >> 6U);
    tail(0);
  } else if (character < 0x10000) {
    text_ += static_cast<char>(0xE0U | character >> 12U);
    tail(6);
    tail(0);
  } else {
    text_ += static_cast<char>(0xF0U | character >> 18U);
    tail(12);
    tail(6);
    tail(0);
  }
}

}  // namespace aeruca::detail
