#include "stability/spread.hpp"
#include "dataset/alternatives.hpp"

#include <cmath>
#include <map>

namespace aeruca::detail {

Alternatives::Alternatives(const System& system) {
  const Dataset& dataset = *system.dataset;
  std::map<std::string, std::size_t> numbers;
  terms_.resize(dataset.species.size());
  for (std::size_t i = 0; i < dataset.species.size(); ++i) {
    for (const auto& [id, coefficient] : dataset.species[i].constant_terms) {
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

Narrowing Alternatives::narrowing(const System& system, const Regime& regime, std::size_t left,
                                  std::size_t right) const {
  std::map<std::size_t, double> sum;  // d gap / d figure
  const auto add = [&](std::size_t species, double count) {
    for (const auto& [number, coefficient] : terms_[species]) sum[number] += count * coefficient;
  };
  const Candidate& l = system.candidates[left];
  const Candidate& r = system.candidates[right];
  add(l.species, 1 / l.copper);
  add(r.species, -1 / r.copper);
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    const double count = regime.in_held[left][k] / l.copper - regime.in_held[right][k] / r.copper;
    if (std::abs(count) > 1e-12) add(regime.held[k].species, -count);
  }
  Narrowing most;
  for (const auto& [number, slope] : sum) {
    for (const Other& other : others_[number]) {
      const double narrower = -slope * other.change;
      if (narrower > most.log10 + 1e-12) most = {narrower, other.id};
    }
  }
  return most;
}

}  // namespace aeruca::detail
