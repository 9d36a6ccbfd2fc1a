#include "base/localised.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

bool digits(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

// Does the text have the shape, where 0 stands for any digit?
bool shaped(std::string_view text, std::string_view shape) {
  return text.size() == shape.size() &&
         std::equal(text.begin(), text.end(), shape.begin(), [](char c, char s) {
           return s == '0' ? digits({&c, 1}) : c == s;
         });
}

// 12, -0.5, 1.2e-07
bool is_number(std::string_view text) {
  if (text.starts_with('+') || text.starts_with('-')) text.remove_prefix(1);
  if (const std::size_t e = text.find('e'); e != std::string_view::npos) {
    std::string_view power = text.substr(e + 1);
    if (power.starts_with('+') || power.starts_with('-')) power.remove_prefix(1);
    if (!digits(power)) return false;
    text = text.substr(0, e);
  }
  const std::size_t point = text.find('.');
  return digits(text.substr(0, point)) &&
         (point == std::string_view::npos || digits(text.substr(point + 1)));
}

// 2026-05-31, 2026-05, 2026-05-31 12:00 and 2026-05-31T12:00:00 in the form of the language.
std::optional<std::string> date_text(std::string_view text, const Words& language) {
  const std::string_view day = text.substr(0, 10);
  const bool moment = shaped(text, "0000-00-00 00:00") || shaped(text, "0000-00-00T00:00") ||
                      shaped(text, "0000-00-00T00:00:00");
  if (shaped(text, "0000-00"))
    return language.say("language.month", {{"year", std::string(text.substr(0, 4))},
                                           {"month", std::string(text.substr(5, 2))}});
  if (!shaped(day, "0000-00-00") || !(moment || text.size() == day.size())) return std::nullopt;
  std::string said = language.say("language.date", {{"year", std::string(text.substr(0, 4))},
                                                    {"month", std::string(text.substr(5, 2))},
                                                    {"day", std::string(text.substr(8, 2))}});
  if (moment) said += " " + std::string(text.substr(11, text.ends_with(":00") ? 5 : 8));
  return said;
}

enum class Piece { figure, sign, word };

// What stands between two blanks, brackets and commas about it apart.
Piece piece_of(std::string_view text) {
  constexpr std::string_view kBefore = "(<>~";
  constexpr std::string_view kAfter = "),;:%";
  while (!text.empty() && kBefore.find(text.front()) != std::string_view::npos)
    text.remove_prefix(1);
  while (!text.empty() && kAfter.find(text.back()) != std::string_view::npos) text.remove_suffix(1);
  for (const std::string_view sign : {"+/-", "\u00b1", "-", "/"}) {
    if (text == sign) return Piece::sign;
    if (sign.size() > 1 && text.starts_with(sign)) text.remove_prefix(sign.size());
  }
  return text.empty() ? Piece::sign : is_number(text) ? Piece::figure : Piece::word;
}

// A number with what belongs to it, and no more.
bool wholly_figures(const std::vector<std::string_view>& pieces) {
  constexpr std::ptrdiff_t kMostWords = 3;
  const auto count = [&](Piece kind) {
    return std::count_if(pieces.begin(), pieces.end(),
                         [kind](std::string_view piece) { return piece_of(piece) == kind; });
  };
  const bool pointed = std::any_of(pieces.begin(), pieces.end(), [](std::string_view piece) {
    return piece_of(piece) == Piece::word && piece.find('.') != std::string_view::npos;
  });
  const bool leads = pieces.front() == "pH" || piece_of(pieces.front()) != Piece::word;
  return leads && !pointed && count(Piece::figure) > 0 && count(Piece::word) <= kMostWords;
}

}  // namespace

std::string localised(std::string text, const Words& language) {
  if (text.find_first_of(".-") == std::string::npos || !language.has("language.decimal_mark"))
    return text;
  // A language that writes days as the results do leaves moments as they are, seconds and all.
  const bool own_date = language.text_of("language.date") != "{year}-{month}-{day}";
  if (const auto date = own_date ? date_text(text, language) : std::nullopt) return *date;
  const std::string& mark = language.text_of("language.decimal_mark");
  const std::vector<std::string_view> pieces = split(text, ' ');
  if (mark == "." || !wholly_figures(pieces)) return text;
  std::string said;
  for (const std::string_view piece : pieces) {
    said += said.empty() ? "" : " ";
    for (const char c : piece) said += c == '.' ? mark : std::string(1, c);
    if (mark == "," && piece.ends_with(',')) said.back() = ';';  // 0,5; 1,5
  }
  return said;
}

std::string localised(std::string text) {
  return localised(std::move(text), words_in_use());
}

}  // namespace aeruca::detail
