#include "stability/spread.hpp"

#include <cmath>
#include <utility>

namespace aeruca::detail {

GapShift shift_of_gap(const Alternatives& alternatives, const System& system, const Regime& regime,
                      std::size_t left, std::size_t right) {
  Alternatives::Slopes sum;  // d gap / d figure
  const auto add = [&](std::size_t species, double count) {
    alternatives.add(species, count, sum);
  };
  const Candidate& l = system.candidates[left];
  const Candidate& r = system.candidates[right];
  add(l.species, 1 / l.copper);
  add(r.species, -1 / r.copper);
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    const double count = regime.in_held[left][k] / l.copper - regime.in_held[right][k] / r.copper;
    if (std::abs(count) > 1e-12) add(regime.held[k].species, -count);
  }
  GapShift shift;
  for (const auto& [number, slope] : sum) {
    for (const OtherFigure& other : alternatives.others(number)) {
      const double change = slope * other.change;
      if (change < shift.lowest - 1e-12) shift.lowest = change, shift.lowest_figure = other.id;
      if (change > shift.highest + 1e-12) shift.highest = change, shift.highest_figure = other.id;
    }
  }
  return shift;
}

Narrowing narrowing(const Alternatives& alternatives, const System& system, const Regime& regime,
                    std::size_t left, std::size_t right) {
  GapShift shift = shift_of_gap(alternatives, system, regime, left, right);
  return {-shift.lowest, std::move(shift.lowest_figure)};
}

}  // namespace aeruca::detail
