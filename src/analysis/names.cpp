// A laboratory's words for the ions of a data set.

#include <algorithm>
#include <array>

#include "aeruca/analysis.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

// Words that do not follow from the titles of the data set; the first of a species is said back.
constexpr std::array<std::pair<std::string_view, std::string_view>, 6> kOtherWords{{
    {"copper", "Cu(2+)"},
    {"bicarbonate", "HCO3(-)"},
    {"hydrogencarbonate", "HCO3(-)"},
    {"hydrogen carbonate", "HCO3(-)"},
    {"sulfate", "SO4(2-)"},
    {"sulphate", "SO4(2-)"},
}};

std::string word_of(const Species& ion) {
  for (const auto& [word, name] : kOtherWords) {
    if (name == ion.name) return std::string(word);
  }
  constexpr std::string_view kIon = " ion";
  std::string word = ion.title;
  if (word.ends_with(kIon)) word.erase(word.size() - kIon.size());
  return word;
}

bool is_ion(const Dataset& dataset, const std::string& component) {
  return component != "H2O" && component != "H(+)" && component != "e(-)" &&
         dataset.at(component).kind == PhaseKind::aqueous;
}

std::string lower(std::string_view text) {
  std::string word(text);
  std::transform(word.begin(), word.end(), word.begin(),
                 [](unsigned char c) { return c >= 'A' && c <= 'Z' ? char(c + 32) : char(c); });
  return word;
}

}  // namespace

std::vector<std::string> ion_words(const Dataset& dataset) {
  std::vector<std::string> words;
  for (const std::string& component : dataset.components) {
    if (is_ion(dataset, component)) words.push_back(word_of(dataset.at(component)));
    if (component == "CO3(2-)" && dataset.contains("HCO3(-)")) words.emplace_back("bicarbonate");
  }
  return words;
}

std::string ingredient_named(std::string_view name, const Dataset& dataset) {
  const std::string word = lower(detail::trim(name));
  for (const auto& [other, species] : kOtherWords) {
    if (word == other && dataset.contains(species)) return std::string(species);
  }
  for (const std::string& component : dataset.components) {
    if (!is_ion(dataset, component)) continue;
    const Species& ion = dataset.at(component);
    if (word == word_of(ion) || detail::trim(name) == ion.formula) return component;
  }
  if (dataset.contains(detail::trim(name))) return std::string(detail::trim(name));
  std::vector<std::string> known = ion_words(dataset);
  for (const Species& species : dataset.species) known.push_back(species.name);
  throw UnknownName("species", std::string(name), detail::nearest_name(name, known));
}

}  // namespace aeruca
