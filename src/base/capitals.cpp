#include "base/capitals.hpp"

namespace aeruca::detail {

std::string capitals(std::string text) {
  bool second = false;  // of the two bytes of a letter of Latin-1
  for (char& letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    const bool accented = second && byte >= 0xA0 && byte != 0xB7 && byte != 0xBF;  // no sign, no y
    if (accented || (letter >= 'a' && letter <= 'z')) letter = static_cast<char>(byte - 0x20);
    second = byte == 0xC3;
  }
  return text;
}

}  // namespace aeruca::detail
