#include "dataset/alternatives.hpp"

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

}  // namespace aeruca::detail
