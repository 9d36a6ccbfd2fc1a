#include "aeruca/dataset.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

template <class Items, class NameOf>
[[noreturn]] void unknown(const char* kind, std::string_view name, const Items& items,
                          NameOf name_of) {
  std::vector<std::string> names;
  names.reserve(items.size());
  for (const auto& item : items) names.push_back(name_of(item));
  throw UnknownName(kind, std::string(name), detail::nearest_name(name, names));
}

// Lists that are short or asked seldom: found by looking through.
template <class Items, class Fits, class NameOf>
auto& find_or_throw(const char* kind, std::string_view name, const Items& items, Fits fits,
                    NameOf name_of) {
  for (const auto& item : items)
    if (fits(item)) return item;
  unknown(kind, name, items, name_of);
}

// A mineral or complex on record without a constant that is used: its name is right.
bool known_by_name_only(const std::vector<Figure>& figures, std::string_view name) {
  return std::any_of(figures.begin(), figures.end(),
                     [&](const Figure& figure) { return figure.subject == name; });
}

}  // namespace

std::string_view to_string(PhaseKind kind) {
  switch (kind) {
    case PhaseKind::aqueous:
      return "aqueous";
    case PhaseKind::solid:
      return "solid";
    case PhaseKind::gas:
      return "gas";
    case PhaseKind::solvent:
      return "solvent";
    case PhaseKind::electron:
      return "electron";
  }
  return "unknown";
}

void Dataset::index_names() {
  species_by_name_.clear();
  figure_by_id_.clear();
  for (std::size_t i = 0; i < species.size(); ++i) species_by_name_[species[i].name] = i;
  for (std::size_t i = 0; i < figures.size(); ++i) figure_by_id_[figures[i].id] = i;
}

bool Dataset::contains(std::string_view name) const {
  return species_by_name_.find(name) != species_by_name_.end();
}

std::size_t Dataset::index(std::string_view name) const {
  const auto found = species_by_name_.find(name);
  if (found == species_by_name_.end() && known_by_name_only(figures, name)) {
    throw InputError("species", std::string(name),
                     "one whose constant is known; the data set has none that it uses for this "
                     "one and says why under 'aeruca constants'");
  }
  if (found == species_by_name_.end())
    unknown("species", name, species, [](const Species& one) { return one.name; });
  return found->second;
}

std::size_t Dataset::component_index(std::string_view name) const {
  for (std::size_t i = 0; i < components.size(); ++i)
    if (components[i] == name) return i;
  throw UnknownName("component", std::string(name), detail::nearest_name(name, components));
}

const Figure& Dataset::figure(std::string_view id) const {
  const auto found = figure_by_id_.find(id);
  if (found == figure_by_id_.end())
    unknown("figure", id, figures, [](const Figure& one) { return one.id; });
  return figures[found->second];
}

const Source& Dataset::source(std::string_view key) const {
  return find_or_throw(
      "source", key, sources, [&](const Source& one) { return one.key == key; },
      [](const Source& one) { return one.key; });
}

const Salt& Dataset::salt(std::string_view name) const {
  // A mineral name is unique; a formula may fit several hydrates, the first listed being the stable
  // one.
  for (const Salt& one : salts)
    if (one.solid == name || one.formula == name) return one;
  return find_or_throw(
      "salt", name, salts, [&](const Salt& one) { return one.anhydrous == name; },
      [](const Salt& one) { return one.solid; });
}

const OnsetBand& Dataset::onset_band(std::string_view id) const {
  return find_or_throw(
      "onset band", id, onset_bands, [&](const OnsetBand& one) { return one.id == id; },
      [](const OnsetBand& one) { return one.id; });
}

const Mineral& Dataset::mineral(std::string_view name) const {
  const Mineral* other = nullptr;
  std::size_t others = 0;
  std::vector<std::string> names;
  for (const Mineral& one : minerals) {
    if (one.name == name) return one;
    names.push_back(one.name);
    if (std::find(one.also.begin(), one.also.end(), name) == one.also.end()) continue;
    other = &one;
    others += 1;
  }
  if (others == 1) return *other;
  throw UnknownName("mineral", std::string(name), detail::nearest_name(name, names));
}

std::string_view to_string(Occurrence occurrence) {
  constexpr std::array<std::string_view, 3> kNames{"common", "occasional", "rare"};
  return kNames[static_cast<std::size_t>(occurrence)];
}

bool Dataset::proton_partner_known(const Species& component) const {
  const std::string& partner = component.proton_partner;
  return partner.empty() || (contains(partner) && std::isfinite(at(partner).log10_k));
}

std::vector<std::string> Dataset::without_proton_partner() const {
  std::vector<std::string> names;
  for (const std::string& name : components) {
    if (!proton_partner_known(at(name))) names.push_back(name);
  }
  return names;
}

std::string_view to_string(MissingEnthalpy choice) {
  constexpr std::array<std::string_view, 3> kNames{"refuse", "leave_out", "estimate"};
  return kNames[static_cast<std::size_t>(choice)];
}

MissingEnthalpy missing_enthalpy_from(std::string_view name) {
  for (const auto choice :
       {MissingEnthalpy::refuse, MissingEnthalpy::leave_out, MissingEnthalpy::estimate}) {
    if (to_string(choice) == name) return choice;
  }
  throw InputError("missing_enthalpy", std::string(name), "refuse, leave_out or estimate");
}

std::vector<std::string> Dataset::unknown_at(double temperature_c,
                                             std::string_view component) const {
  const std::size_t j = component_index(component);
  std::vector<std::string> names;
  for (const Species& one : species) {
    if (one.components[j] > 0 && !log10_k_known_at(one, temperature_c)) names.push_back(one.name);
  }
  return names;
}

}  // namespace aeruca
