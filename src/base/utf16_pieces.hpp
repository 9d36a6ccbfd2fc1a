#pragma once

// A text in UTF-8, UTF-16 or a Windows code page, handed on in UTF-8.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/text_pieces.hpp"

namespace aeruca::detail {

/// Pieces of a text in UTF-8. Of one that begins with the mark of UTF-16; of any other, lines that
/// are no UTF-8 are taken for code page 1252 (Western Europe). What is no character becomes U+FFFD.
class Utf8Pieces final : public TextPieces {
 public:
  explicit Utf8Pieces(TextPieces& raw) : raw_(raw) {}
  std::string_view next() override;
  [[nodiscard]] std::size_t size() const override { return raw_.size() / (utf16_ ? 2 : 1); }

 private:
  std::string_view as_utf8(std::string_view raw);
  void decode(std::string_view bytes);
  template <std::size_t Letter>
  std::size_t take_plain(std::string_view bytes);
  void take_unit(std::uint32_t unit);
  void write(std::uint32_t character);

  TextPieces& raw_;
  bool begun_ = false;
  bool utf16_ = false;
  bool low_byte_first_ = false;
  std::string odd_;              // a byte whose partner has not come yet
  std::uint32_t high_half_ = 0;  // of a pair of units
  std::string text_;
  std::size_t given_ = 0;  // characters of the text that were given away
};

}  // namespace aeruca::detail
