// Any bytes as a reaction equation: terms that written out again read the same, or our own error.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <string>
#include <string_view>

#include "aeruca/errors.hpp"
#include "dataset/records.hpp"
#include "demand.hpp"

namespace {

using aeruca::detail::Terms;

std::string exactly(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return text;
}

std::string side(const Terms& terms, double sign) {
  std::string text;
  for (const auto& [name, coefficient] : terms) {
    if (sign * coefficient < 0) continue;
    text += (text.empty() ? "" : " + ") + exactly(sign * coefficient) + " " + name;
  }
  return text;
}

void check(std::string_view text) {
  const Terms terms = aeruca::detail::parse_equation(text);
  demand(terms.size() >= 2);
  for (const auto& [name, coefficient] : terms)
    demand(!name.empty() && coefficient != 0 && std::abs(coefficient) <= 1000);
  const std::string before = side(terms, -1);
  const std::string after = side(terms, 1);
  demand(!before.empty() && !after.empty());
  demand(aeruca::detail::parse_equation(before + " = " + after) == terms);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(data, size, check);
}
