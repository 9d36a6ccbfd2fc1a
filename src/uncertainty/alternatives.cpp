#include "uncertainty/alternatives.hpp"

#include <algorithm>
#include <cmath>

namespace aeruca::detail {

std::vector<const Figure*> alternatives(const Dataset& dataset, const Figure& chosen) {
  std::vector<const Figure*> found;
  for (const Figure& other : dataset.figures) {
    if (!other.chosen && other.id != chosen.id && other.subject == chosen.subject &&
        other.quantity == chosen.quantity && other.conditions == chosen.conditions &&
        other.unit == chosen.unit && !std::isnan(other.value)) {
      found.push_back(&other);
    }
  }
  return found;
}

double widest_change(const Dataset& dataset, const Balance& balance, double temperature_c) {
  std::map<std::string, double> slopes;
  for (const auto& [name, count] : balance) {
    for (const auto& [figure, coefficient] : Dataset::terms_at(dataset.at(name), temperature_c))
      slopes[figure] += count * coefficient;
  }
  double widest = 0;
  for (const auto& [id, slope] : slopes) {
    const Figure& chosen = dataset.figure(id);
    for (const Figure* other : alternatives(dataset, chosen))
      widest = std::max(widest, std::abs(slope * (other->value - chosen.value)));
  }
  return widest;
}

Alternatives::Alternatives(const Dataset& dataset, double temperature_c)
    : terms_(dataset.species.size()) {
  std::map<std::string, std::size_t> numbers;
  for (std::size_t i = 0; i < dataset.species.size(); ++i) {
    for (const auto& [id, coefficient] : Dataset::terms_at(dataset.species[i], temperature_c)) {
      const auto [place, fresh] = numbers.try_emplace(id, others_.size());
      if (fresh) {
        others_.emplace_back();
        const Figure& chosen = dataset.figure(id);
        for (const Figure* other : alternatives(dataset, chosen))
          others_.back().push_back({other->value - chosen.value, other->id});
      }
      if (!others_[place->second].empty()) terms_[i].emplace_back(place->second, coefficient);
    }
  }
}

void Alternatives::add(std::size_t species, double count, Slopes& sum) const {
  for (const auto& [number, coefficient] : terms_[species]) sum[number] += count * coefficient;
}

}  // namespace aeruca::detail
