#include "base/printable.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kLongest = 60;

bool is_control(unsigned char c) {
  return c < 0x20 || c == 0x7f;
}

// U+0080 to U+009F: some terminals act on these too.
bool is_wide_control(std::string_view text, std::size_t at) {
  if (static_cast<unsigned char>(text[at]) != 0xc2 || at + 1 >= text.size()) return false;
  const auto next = static_cast<unsigned char>(text[at + 1]);
  return next >= 0x80 && next <= 0x9f;
}

std::string written_out(char c) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  const auto byte = static_cast<unsigned char>(c);
  return std::string("\\x") + kDigits[byte / 16] + kDigits[byte % 16];
}

bool opens(std::string_view text, std::size_t at) {
  return text[at] == '\'' && (at == 0 || text[at - 1] == ' ' || text[at - 1] == '(');
}

bool closes(std::string_view text, std::size_t at) {
  constexpr std::string_view kAfter = " ;,.:)";
  return text[at] == '\'' &&
         (at + 1 == text.size() || kAfter.find(text[at + 1]) != std::string_view::npos);
}

}  // namespace

std::string printable(std::string_view text, bool lines) {
  std::string result;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    if (is_wide_control(text, at)) {
      result += written_out(c) + written_out(text[++at]);
    } else if (is_control(static_cast<unsigned char>(c)) && !(lines && c == '\n')) {
      result += written_out(c);
    } else {
      result += c;
    }
  }
  return result;
}

std::string clipped(std::string_view text) {
  if (text.size() <= kLongest) return std::string(text);
  std::size_t end = kLongest;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0) == 0x80)
    --end;  // whole characters
  return std::string(text.substr(0, end)) + "...";
}

std::string in_a_message(std::string_view text) {
  const std::string plain = printable(text);
  std::string result;
  for (std::size_t at = 0; at < plain.size();) {
    result += plain[at];
    if (!opens(plain, at++)) continue;
    std::size_t end = at;
    while (end < plain.size() && !closes(plain, end)) ++end;
    if (end == plain.size()) continue;
    result += clipped(std::string_view(plain).substr(at, end - at)) + "'";
    at = end + 1;
  }
  return result;
}

}  // namespace aeruca::detail
