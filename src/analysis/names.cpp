// A laboratory's words for the ions of a data set.

#include <algorithm>
#include <array>

#include "aeruca/analysis.hpp"
#include "analysis/words.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

// Words that do not follow from the titles of the data set; the first of a species is said back.
constexpr std::array<std::pair<std::string_view, std::string_view>, 7> kOtherWords{{
    {"copper", "Cu(2+)"},
    {"bicarbonate", "HCO3(-)"},
    {"hco3", "HCO3(-)"},
    {"hydrogencarbonate", "HCO3(-)"},
    {"hydrogen carbonate", "HCO3(-)"},
    {"sulfate", "SO4(2-)"},
    {"sulphate", "SO4(2-)"},
}};

bool is_ion(const Dataset& dataset, const std::string& component) {
  return !detail::is_water_component(component) && dataset.at(component).kind == PhaseKind::aqueous;
}

}  // namespace

namespace detail {

std::string ion_word(const Species& ion) {
  for (const auto& [word, name] : kOtherWords) {
    if (name == ion.name) return std::string(word);
  }
  constexpr std::string_view kIon = " ion";
  std::string word = ion.title.empty() ? ion.name : ion.title;
  if (word.ends_with(kIon)) word.erase(word.size() - kIon.size());
  return word;
}

bool is_water_component(std::string_view component) {
  return component == "H2O" || component == "H(+)" || component == "e(-)";
}

std::string as_word(std::string_view text) {
  std::string word(trim(text));
  std::transform(word.begin(), word.end(), word.begin(), [](unsigned char c) {
    return static_cast<char>(c >= 'A' && c <= 'Z' ? c + 'a' - 'A' : c);
  });
  return word;
}

}  // namespace detail

std::vector<std::string> ion_words(const Dataset& dataset) {
  std::vector<std::string> words;
  for (const std::string& component : dataset.components) {
    if (is_ion(dataset, component)) words.push_back(detail::ion_word(dataset.at(component)));
    if (component == "CO3(2-)" && dataset.contains("HCO3(-)")) words.emplace_back("bicarbonate");
  }
  return words;
}

std::string ingredient_named(std::string_view name, const Dataset& dataset) {
  const std::string word = detail::as_word(name);
  for (const auto& [other, species] : kOtherWords) {
    if (word == other && dataset.contains(species)) return std::string(species);
  }
  for (const std::string& component : dataset.components) {
    if (!is_ion(dataset, component)) continue;
    const Species& ion = dataset.at(component);
    if (word == detail::ion_word(ion) || detail::trim(name) == ion.formula) return component;
  }
  if (dataset.contains(detail::trim(name))) return std::string(detail::trim(name));
  std::vector<std::string> known = ion_words(dataset);
  for (const Species& species : dataset.species) known.push_back(species.name);
  throw UnknownName("species", std::string(name), detail::nearest_name(name, known));
}

}  // namespace aeruca
