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

// Bytes of the letter at the front of a text that is not empty; 0 where it is no UTF-8.
std::size_t letter_at(std::string_view text) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t size = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < size) return 0;
  for (std::size_t k = 1; k < size; ++k) {
    if ((byte(k) & 0xC0U) != 0x80) return 0;
  }
  // Longer than it need be, half of a pair, or beyond the last character.
  const unsigned char second = byte(1);
  if ((first == 0xE0 && second < 0xA0) || (first == 0xED && second > 0x9F) ||
      (first == 0xF0 && second < 0x90) || (first == 0xF4 && second > 0x8F))
    return 0;
  return size;
}

// How many letters below 128 stand at the front, block by block.
std::size_t plain_blocks(std::string_view text) {
  constexpr std::size_t kBlockBytes = 64;
  std::size_t at = 0;
  for (; text.size() - at >= kBlockBytes; at += kBlockBytes) {
    unsigned char all = 0;
    for (std::size_t k = 0; k < kBlockBytes; ++k) all |= static_cast<unsigned char>(text[at + k]);
    if (all >= 0x80) break;
  }
  return at;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    text.remove_prefix(plain_blocks(text));
    for (std::size_t k = 0; k < 64 && !text.empty(); ++k) {
      const std::size_t size = letter_at(text);
      if (size == 0) return false;
      text.remove_prefix(size);
    }
  }
  return true;
}

// Windows code page 1252 from 0x80 to 0x9F; 0: no character.
constexpr std::array<std::uint32_t, 32> kWestern{
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

}  // namespace

// Line by line, so that a line of UTF-8 stays what it is beside one that is none.
std::string_view Utf8Pieces::as_utf8(std::string_view raw) {
  text_.clear();
  while (!raw.empty()) {
    const std::size_t end = std::min(raw.find('\n'), raw.size() - 1) + 1;
    const std::string_view line = raw.substr(0, end);
    raw.remove_prefix(end);
    if (is_utf8(line)) {
      text_ += line;
      continue;
    }
    for (const char c : line) {
      const auto byte = static_cast<unsigned char>(c);
      const std::uint32_t western = byte >= 0x80 && byte < 0xA0 ? kWestern[byte - 0x80U] : byte;
      write(western == 0 && byte != 0 ? kNoCharacter : western);
    }
  }
  return text_;
}

std::string_view Utf8Pieces::next() {
  std::string_view raw = raw_.next();
  if (!begun_) {
    begun_ = true;
    low_byte_first_ = raw.substr(0, 2) == "\xFF\xFE";
    utf16_ = low_byte_first_ || raw.substr(0, 2) == "\xFE\xFF";
    if (utf16_) raw.remove_prefix(2);
  }
  if (!utf16_) return is_utf8(raw) ? raw : as_utf8(raw);
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
    std::array<char, kBlockUnits> letters{};
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
