// Any bytes as a chemical formula: a composition in which every element that was written counts, or
// our own error.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "demand.hpp"

namespace {

bool upper(char c) {
  return c >= 'A' && c <= 'Z';
}

bool lower(char c) {
  return c >= 'a' && c <= 'z';
}

bool holds(const aeruca::Composition& composition, std::string_view symbol) {
  return std::any_of(composition.elements.begin(), composition.elements.end(),
                     [&](const auto& element) { return element.first == symbol; });
}

// A capital letter begins an element, and nothing else does.
void check_nothing_is_dropped(std::string_view text, const aeruca::Composition& composition) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!upper(text[i])) continue;
    const bool two = i + 1 < text.size() && lower(text[i + 1]);
    demand(holds(composition, text.substr(i, two ? 2 : 1)));
  }
}

void check(std::string_view text) {
  const aeruca::Composition composition = aeruca::parse_formula(text);
  const bool electron = composition.elements.empty();
  demand(!electron || composition.charge == -1);
  demand(composition.charge >= -20 && composition.charge <= 20);
  for (const auto& [symbol, atoms] : composition.elements)
    demand(atoms > 0 && std::isfinite(atoms));
  const double mass = aeruca::molar_mass_g_per_mol(composition);
  demand(electron ? mass == 0 : mass > 1 && std::isfinite(mass));
  check_nothing_is_dropped(text, composition);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(data, size, check);
}
